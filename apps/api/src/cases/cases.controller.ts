import { Body, Controller, Inject, Param, Query } from '@nestjs/common';
import {
  CaseDetail,
  ConsiderEvent,
  CasePage,
  CloseCase,
  EndExchange,
  EraseIdentity,
  Id,
  ListQuery,
  MeasurementCorrection,
  MeasurementInput,
  OpenCase,
  OpenExchange,
  OffsetOffer,
  OrderDetail,
  PatientIdentity,
  PlanChoice,
  PlanRequest,
  PlanResult,
  RecordImplantation,
  ScheduleTheatre,
  SubjectExport,
} from '@lensferry/contracts';
import { considerEvent } from './consider-event.js';
import type { z } from 'zod';
import { endExchange, openExchange } from '../exchanges/open-exchange.js';
import { showOrder } from '../orders/orders.queries.js';
import { withPassword } from '../people/throttle.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import { computePlan } from '../plans/compute-plan.js';
import { showOffset } from '../plans/offer-offset.js';
import { savePlan } from '../plans/save-plan.js';
import { listCases } from './cases.queries.js';
import { loadCase } from './cases.store.js';
import { eraseIdentity } from './erase-identity.js';
import { exportSubject } from './export-subject.js';
import { closeCase, withdrawCase } from './end-case.js';
import { addMeasurement, correctMeasurement } from './measure.js';
import { openCase } from './open-case.js';
import { readIdentity } from './read-identity.js';
import { recordImplantation } from './record-implantation.js';
import { scheduleTheatre } from './schedule-theatre.js';
import { showCase } from './show-case.js';

@Controller('api/cases')
export class CasesController {
  constructor(@Inject(Database) private readonly database: Database) {}

  /** Runs a use case and answers with the case as it stands after it. */
  private async step(me: Actor, id: string, useCase: (work: Work) => Promise<unknown>): Promise<CaseDetail> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showCase(work, id));
  }

  @Route('GET', '', { summary: 'A page of cases.', access: 'case.read', answer: CasePage, query: ListQuery })
  list(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof CasePage>> {
    return this.database.work(me, (work) => listCases(work, query));
  }

  @Route('POST', '', {
    summary: 'Open a case for one eye.',
    access: 'case.open',
    answer: CaseDetail,
    status: 201,
  })
  async open(@Me() me: Actor, @Body({ schema: OpenCase }) input: OpenCase): Promise<CaseDetail> {
    const id = await this.database.work(me, (work) => openCase(work, input));
    return this.database.work(me, (work) => showCase(work, id));
  }

  @Route('GET', ':id', { summary: 'Everything about a case.', access: 'case.read', answer: CaseDetail })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<CaseDetail> {
    return this.database.work(me, (work) => showCase(work, id));
  }

  @Route('GET', ':id/identity', {
    summary: 'Who the patient is; each look is recorded.',
    access: 'case.identity',
    answer: PatientIdentity,
  })
  identity(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<PatientIdentity> {
    return this.database.work(me, (work) => readIdentity(work, id));
  }

  @Route('GET', ':id/subject-export', {
    summary: 'Everything that is held about the patient, for that person; it is recorded.',
    access: 'case.export-subject',
    answer: SubjectExport,
  })
  exportSubject(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<SubjectExport> {
    return this.database.work(me, (work) => exportSubject(work, id));
  }

  @Route('POST', ':id/erase-identity', {
    summary: 'Erase who the patient is; the record of the device stays.',
    access: 'case.erase-identity',
    answer: CaseDetail,
  })
  async eraseIdentity(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: EraseIdentity }) input: EraseIdentity,
  ): Promise<CaseDetail> {
    await withPassword(this.database, me, (work) => eraseIdentity(work, id, input));
    return this.database.work(me, (work) => showCase(work, id));
  }

  @Route('POST', ':id/measurements', {
    summary: 'Record a measurement.',
    access: 'case.measure',
    answer: CaseDetail,
    status: 201,
  })
  measure(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: MeasurementInput }) input: MeasurementInput,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => addMeasurement(work, id, input));
  }

  @Route('POST', ':id/measurements/:measurementId/correction', {
    summary: 'Put a measurement right; the first one is kept.',
    access: 'case.measure',
    answer: CaseDetail,
  })
  correct(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Param('measurementId', { schema: Id }) measurementId: string,
    @Body({ schema: MeasurementCorrection }) input: MeasurementCorrection,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => correctMeasurement(work, id, measurementId, input));
  }

  @Route('GET', ':id/offset', {
    summary: 'What refractions of eyes like this one came out away from their plans; shown, not applied.',
    access: 'case.read',
    answer: OffsetOffer,
  })
  offset(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<OffsetOffer> {
    return this.database.work(me, (work) => showOffset(work, id));
  }

  @Route('POST', ':id/plan-preview', {
    summary: 'Compute a plan without keeping it.',
    access: 'case.plan',
    answer: PlanResult,
  })
  preview(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlanRequest }) input: PlanRequest,
  ): Promise<PlanResult> {
    return this.database.work(me, async (work) => computePlan(work, await loadCase(work, id), input));
  }

  @Route('POST', ':id/plans', {
    summary: 'Keep a plan and open or amend its order.',
    access: 'case.plan',
    answer: OrderDetail,
    status: 201,
  })
  async plan(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlanChoice }) input: PlanChoice,
  ): Promise<OrderDetail> {
    const orderId = await this.database.work(me, (work) => savePlan(work, id, input));
    return this.database.work(me, (work) => showOrder(work, orderId));
  }

  @Route('POST', ':id/theatre-date', {
    summary: 'Set or clear the theatre date.',
    access: 'case.schedule',
    answer: CaseDetail,
  })
  schedule(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ScheduleTheatre }) input: z.infer<typeof ScheduleTheatre>,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => scheduleTheatre(work, id, input));
  }

  @Route('POST', ':id/implantation', {
    summary: 'Record that a lens went into the eye.',
    access: 'case.implant',
    answer: CaseDetail,
  })
  implant(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: RecordImplantation }) input: RecordImplantation,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => recordImplantation(work, id, input));
  }

  @Route('POST', ':id/exchange', {
    summary: 'Open an exchange of the lens in the eye.',
    access: 'case.exchange',
    answer: CaseDetail,
  })
  exchange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: OpenExchange }) input: OpenExchange,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => openExchange(work, id, input));
  }

  @Route('POST', ':id/considered-event', {
    summary: 'Write down whether an explanted lens was reported; nothing is sent.',
    access: 'case.exchange',
    answer: CaseDetail,
  })
  consider(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ConsiderEvent }) input: ConsiderEvent,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => considerEvent(work, id, input));
  }

  @Route('POST', ':id/exchange/end', {
    summary: 'Give an exchange up; the lens stays in the eye.',
    access: 'case.exchange',
    answer: CaseDetail,
  })
  endExchange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: EndExchange }) input: z.infer<typeof EndExchange>,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => endExchange(work, id, input));
  }

  @Route('POST', ':id/close', {
    summary: 'Close a case after follow-up.',
    access: 'case.close',
    answer: CaseDetail,
  })
  close(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: CloseCase }) input: z.infer<typeof CloseCase>,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => closeCase(work, id, input));
  }

  @Route('POST', ':id/withdraw', {
    summary: 'Withdraw a case before implantation.',
    access: 'case.withdraw',
    answer: CaseDetail,
  })
  withdraw(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: CloseCase }) input: z.infer<typeof CloseCase>,
  ): Promise<CaseDetail> {
    return this.step(me, id, (work) => withdrawCase(work, id, input));
  }
}
