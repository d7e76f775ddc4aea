import { Body, Controller, Inject, Param, Query } from '@nestjs/common';
import {
  AuthoriseReturn,
  CreditReturn,
  HandOverReturn,
  Id,
  ListQuery,
  PlainStep,
  ReasonedStep,
  ReturnPage,
  ReturnSummary,
  ToldMaker,
} from '@lensferry/contracts';
import type { z } from 'zod';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import {
  authoriseReturn,
  creditReturn,
  handOverReturn,
  receiveReturn,
  writeOffReturn,
} from './move-return.js';
import { markReturnTold, tellReturnAgain } from './telling.store.js';
import { listReturns, showReturn } from './returns.queries.js';

@Controller('api/returns')
export class ReturnsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  private async step(
    me: Actor,
    id: string,
    useCase: (work: Work) => Promise<unknown>,
  ): Promise<ReturnSummary> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showReturn(work, id));
  }

  @Route('GET', '', {
    summary: 'A page of returns.',
    access: 'return.read',
    answer: ReturnPage,
    query: ListQuery,
  })
  list(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof ReturnPage>> {
    return this.database.work(me, (work) => listReturns(work, query));
  }

  @Route('GET', ':id', { summary: 'One return.', access: 'return.read', answer: ReturnSummary })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<ReturnSummary> {
    return this.database.work(me, (work) => showReturn(work, id));
  }

  @Route('POST', ':id/authorise', {
    summary: 'Enter a maker’s authorisation.',
    access: 'signed-in',
    answer: ReturnSummary,
  })
  authorise(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: AuthoriseReturn }) input: z.infer<typeof AuthoriseReturn>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => authoriseReturn(work, id, input));
  }

  @Route('POST', ':id/hand-over', {
    summary: 'The parcel has left.',
    access: 'signed-in',
    answer: ReturnSummary,
  })
  handOver(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: HandOverReturn }) input: z.infer<typeof HandOverReturn>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => handOverReturn(work, id, input));
  }

  @Route('POST', ':id/receive', { summary: 'The maker has it.', access: 'signed-in', answer: ReturnSummary })
  receive(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: z.infer<typeof PlainStep>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => receiveReturn(work, id, input));
  }

  @Route('POST', ':id/credit', { summary: 'Book the credit.', access: 'signed-in', answer: ReturnSummary })
  credit(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: CreditReturn }) input: z.infer<typeof CreditReturn>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => creditReturn(work, id, input));
  }

  @Route('POST', ':id/tell-again', {
    summary: 'Send a return’s request to its maker once more.',
    access: 'lens.return',
    answer: ReturnSummary,
  })
  tellAgain(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: z.infer<typeof PlainStep>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => tellReturnAgain(work, id, input));
  }

  @Route('POST', ':id/told', {
    summary: 'Say that a maker was told of a return by hand.',
    access: 'lens.return',
    answer: ReturnSummary,
  })
  told(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ToldMaker }) input: z.infer<typeof ToldMaker>,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => markReturnTold(work, id, input));
  }

  @Route('POST', ':id/write-off', {
    summary: 'Give a return up, with the reason.',
    access: 'signed-in',
    answer: ReturnSummary,
  })
  writeOff(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<ReturnSummary> {
    return this.step(me, id, (work) => writeOffReturn(work, id, input));
  }
}
