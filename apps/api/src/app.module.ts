import { Module, type DynamicModule } from '@nestjs/common';
import { APP_FILTER, APP_GUARD, APP_PIPE } from '@nestjs/core';
import { CasesController } from './cases/cases.controller.js';
import type { Settings } from './config.js';
import { SchemasController } from './dispatch/schemas.controller.js';
import { DocumentsController } from './documents/documents.controller.js';
import { LimitsController } from './limits/limits.controller.js';
import { LedgerController } from './ledger/ledger.controller.js';
import { MakersController } from './makers/makers.controller.js';
import { OrdersController } from './orders/orders.controller.js';
import { QuestionsController } from './orders/questions.controller.js';
import { OutcomesController } from './outcomes/outcomes.controller.js';
import { AccountController } from './people/account.controller.js';
import { BreachedPasswords } from './people/breached-passwords.js';
import { ClinicsController } from './people/clinics.controller.js';
import { InvitationsController } from './people/invitations.controller.js';
import { ManagePeopleController } from './people/manage-people.controller.js';
import { PeopleController } from './people/people.controller.js';
import { Database } from './platform/database.js';
import { HealthController } from './platform/health.controller.js';
import { LiveUpdates, LiveUpdatesController } from './platform/live-updates.js';
import { ProblemFilter } from './platform/problem-filter.js';
import { problemPipe } from './platform/problem-pipe.js';
import { SessionGuard } from './platform/session-guard.js';
import { settingsToken } from './platform/tokens.js';
import { ArrivalsController } from './receiving/arrivals.controller.js';
import { ParcelsController } from './receiving/parcels.controller.js';
import { ReturnsController } from './returns/returns.controller.js';
import { LensesController } from './stock/lenses.controller.js';
import { CountsController } from './counts/counts.controller.js';
import { TransfersController } from './transfers/transfers.controller.js';
import { RecallController } from './stock/recall.controller.js';
import { TodayController } from './today/today.controller.js';

/** The whole API: use cases are plain functions, so all that is injected is the door to the data and the settings. */
@Module({})
export class AppModule {
  static with(settings: Settings, database: Database): DynamicModule {
    return {
      module: AppModule,
      controllers: [
        HealthController,
        PeopleController,
        AccountController,
        ManagePeopleController,
        InvitationsController,
        ClinicsController,
        TodayController,
        CasesController,
        OrdersController,
        QuestionsController,
        ArrivalsController,
        ParcelsController,
        LensesController,
        TransfersController,
        CountsController,
        RecallController,
        ReturnsController,
        MakersController,
        LedgerController,
        LimitsController,
        SchemasController,
        OutcomesController,
        DocumentsController,
        LiveUpdatesController,
      ],
      providers: [
        LiveUpdates,
        { provide: Database, useValue: database },
        { provide: settingsToken, useValue: settings },
        { provide: BreachedPasswords, useValue: new BreachedPasswords(settings.BREACHED_PASSWORDS) },
        { provide: APP_GUARD, useClass: SessionGuard },
        { provide: APP_FILTER, useClass: ProblemFilter },
        { provide: APP_PIPE, useValue: problemPipe },
      ],
    };
  }
}
