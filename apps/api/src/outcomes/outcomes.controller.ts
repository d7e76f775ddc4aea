import { Body, Controller, Header, Inject, Param, Query, StreamableFile } from '@nestjs/common';
import {
  ComparisonQuery,
  DueVisits,
  ExportQuery,
  Id,
  MakerScorecards,
  OutcomeComparison,
  OutcomeQuery,
  OutcomeReport,
  PooledOutcomes,
  ProposeModel,
  RefractionOffsets,
  SignModel,
  VaultLearnings,
  VaultModels,
  VisitSchedule,
  VisitsQuery,
} from '@lensferry/contracts';
import { exportEyesAsFhir, fhirMediaType } from '../fhir/export-eyes.js';
import { withPassword } from '../people/throttle.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { exportDictionary, exportEyes } from './export-eyes.js';
import { listVisits } from './list-visits.js';
import { proposeModel } from './propose-model.js';
import { scoreMakers } from './score-makers.queries.js';
import { showRefractionOffsets, showVaultLearning } from './show-learning.js';
import { setVisitDays } from './set-visit-days.js';
import { signModel } from './sign-model.js';
import { showPooled } from './show-pooled.js';
import { compareOutcomes, showReport } from './show-report.js';
import { showModels } from './vault-models.queries.js';

@Controller('api/outcomes')
export class OutcomesController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'The standard figures of refractive-surgery journals, for the eyes one may see.',
    access: 'case.read',
    answer: OutcomeReport,
    query: OutcomeQuery,
  })
  report(@Me() me: Actor, @Query({ schema: OutcomeQuery }) query: OutcomeQuery): Promise<OutcomeReport> {
    return this.database.work(me, (work) => showReport(work, query));
  }

  @Route('GET', 'comparison', {
    summary: 'Two groups of eyes, measure by measure, with the test used.',
    access: 'case.read',
    answer: OutcomeComparison,
    query: ComparisonQuery,
  })
  compare(
    @Me() me: Actor,
    @Query({ schema: ComparisonQuery }) query: ComparisonQuery,
  ): Promise<OutcomeComparison> {
    return this.database.work(me, (work) => compareOutcomes(work, query));
  }

  @Route('GET', 'vault', {
    summary: 'Predicted against measured vault, and what it teaches about each design’s model.',
    access: 'case.read',
    answer: VaultLearnings,
    query: OutcomeQuery,
  })
  vault(@Me() me: Actor, @Query({ schema: OutcomeQuery }) query: OutcomeQuery): Promise<VaultLearnings> {
    return this.database.work(me, (work) => showVaultLearning(work, query));
  }

  @Route('GET', 'models', {
    summary: 'What vault model each design goes by, what is proposed, and what it went by before.',
    access: 'case.read',
    answer: VaultModels,
  })
  models(@Me() me: Actor): Promise<VaultModels> {
    return this.database.work(me, showModels);
  }

  @Route('POST', 'models/proposals', {
    summary:
      'Propose a vault model for a design: the learned one, or the former one. Nothing goes by it yet.',
    access: 'model.propose',
    answer: VaultModels,
  })
  async propose(@Me() me: Actor, @Body({ schema: ProposeModel }) body: ProposeModel): Promise<VaultModels> {
    await this.database.work(me, (work) => proposeModel(work, body));
    return this.database.work(me, showModels);
  }

  @Route('POST', 'models/proposals/:id/sign', {
    summary: 'Sign a proposed vault model with the password once more; new plans go by it.',
    access: 'model.sign',
    answer: VaultModels,
  })
  async sign(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: SignModel }) body: SignModel,
  ): Promise<VaultModels> {
    await withPassword(this.database, me, (work) => signModel(work, id, body));
    return this.database.work(me, showModels);
  }

  @Route('GET', 'refraction', {
    summary: 'Systematic offsets of refraction by device, clinic and axis; offered, never applied.',
    access: 'case.read',
    answer: RefractionOffsets,
    query: OutcomeQuery,
  })
  refraction(
    @Me() me: Actor,
    @Query({ schema: OutcomeQuery }) query: OutcomeQuery,
  ): Promise<RefractionOffsets> {
    return this.database.work(me, (work) => showRefractionOffsets(work, query));
  }

  @Route('GET', 'pooled', {
    summary: 'Own results beside those of all other clinics together, from sums that each of them gives.',
    access: 'case.read',
    answer: PooledOutcomes,
  })
  pooled(@Me() me: Actor): Promise<PooledOutcomes> {
    return this.database.work(me, showPooled);
  }

  @Route('GET', 'visits', {
    summary: 'Follow-up visits that are due, overdue or next.',
    access: 'case.read',
    answer: DueVisits,
    query: VisitsQuery,
  })
  visits(@Me() me: Actor, @Query({ schema: VisitsQuery }) query: VisitsQuery): Promise<DueVisits> {
    return this.database.work(me, (work) => listVisits(work, query));
  }

  @Route('POST', 'visit-schedule', {
    summary: 'Set the network’s visits of follow-up.',
    access: 'visits.schedule',
    answer: DueVisits,
  })
  schedule(@Me() me: Actor, @Body({ schema: VisitSchedule }) body: VisitSchedule): Promise<DueVisits> {
    return this.database.work(me, async (work) => {
      await setVisitDays(work, body);
      return listVisits(work, { state: 'all' });
    });
  }

  @Route('GET', 'makers', {
    summary: 'How makers keep their word, with funnel limits.',
    access: 'maker.read',
    answer: MakerScorecards,
  })
  makers(@Me() me: Actor): Promise<MakerScorecards> {
    return this.database.work(me, scoreMakers);
  }

  @Route('GET', 'eyes.csv', {
    summary: 'The eyes as a table, de-identified unless asked for otherwise; each export is recorded.',
    access: 'case.read',
    query: ExportQuery,
    mediaType: 'text/csv',
  })
  @Header('content-type', 'text/csv; charset=utf-8; header=present')
  @Header('content-disposition', 'attachment; filename="lensferry-eyes.csv"')
  @Header('cache-control', 'no-store')
  eyes(@Me() me: Actor, @Query({ schema: ExportQuery }) query: ExportQuery): Promise<string> {
    return this.database.work(me, (work) => exportEyes(work, query));
  }

  @Route('GET', 'eyes.fhir', {
    summary:
      'The eyes as one FHIR R4 bundle without identity: dates moved, small groups not named; each export is recorded.',
    access: 'case.read',
    query: OutcomeQuery,
    mediaType: fhirMediaType,
  })
  @Header('cache-control', 'no-store')
  async bundle(
    @Me() me: Actor,
    @Query({ schema: OutcomeQuery }) query: OutcomeQuery,
  ): Promise<StreamableFile> {
    const bundle = await this.database.work(me, (work) => exportEyesAsFhir(work, query));
    const bytes = Buffer.from(JSON.stringify(bundle));
    const disposition = 'attachment; filename="lensferry-eyes.fhir.json"';
    return new StreamableFile(bytes, { type: fhirMediaType, disposition, length: bytes.length });
  }

  @Route('GET', 'eyes-dictionary.csv', {
    summary: 'What each column of the table of eyes means.',
    access: 'case.read',
    mediaType: 'text/csv',
  })
  @Header('content-type', 'text/csv; charset=utf-8; header=present')
  @Header('content-disposition', 'attachment; filename="lensferry-eyes-dictionary.csv"')
  dictionary(): string {
    return exportDictionary();
  }
}
