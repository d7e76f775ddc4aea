import { Body, Controller, Inject, Param, Query } from '@nestjs/common';
import {
  Id,
  LensDetail,
  LensPage,
  ListQuery,
  OwnLens,
  ReadPack,
  ReasonedStep,
  ReserveLens,
  ReturnSummary,
  StartReturn,
} from '@lensferry/contracts';
import type { z } from 'zod';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import { showReturn } from '../returns/returns.queries.js';
import { startReturn } from '../returns/start-return.js';
import { readPack } from './read-pack.js';
import { discardLens, rejectLens, releaseLens } from './decide-quarantine.js';
import { freeLens, ownLens, reserveLens } from './keep-for-case.js';
import { listLenses, showLens } from './lenses.queries.js';

@Controller('api/lenses')
export class LensesController {
  constructor(@Inject(Database) private readonly database: Database) {}

  private async step(me: Actor, id: string, useCase: (work: Work) => Promise<unknown>): Promise<LensDetail> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showLens(work, id));
  }

  @Route('GET', '', { summary: 'A page of lenses.', access: 'lens.read', answer: LensPage, query: ListQuery })
  list(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof LensPage>> {
    return this.database.work(me, (work) => listLenses(work, query));
  }

  @Route('GET', ':id', {
    summary: 'One lens, and where it has been.',
    access: 'lens.read',
    answer: LensDetail,
  })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<LensDetail> {
    return this.database.work(me, (work) => showLens(work, id));
  }

  @Route('POST', ':id/read', {
    summary: 'Read the rest of a quarantined pack.',
    access: 'arrival.receive',
    answer: LensDetail,
  })
  read(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReadPack }) input: ReadPack,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => readPack(work, id, input));
  }

  @Route('POST', ':id/release', {
    summary: 'Let a quarantined lens go to its case.',
    access: 'signed-in',
    answer: LensDetail,
  })
  release(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => releaseLens(work, id, input));
  }

  @Route('POST', ':id/reject', {
    summary: 'Reject a quarantined lens; it goes back to its maker.',
    access: 'signed-in',
    answer: LensDetail,
  })
  reject(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => rejectLens(work, id, input));
  }

  @Route('POST', ':id/unreserve', {
    summary: 'Take a lens off its case.',
    access: 'signed-in',
    answer: LensDetail,
  })
  unreserve(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => freeLens(work, id, input));
  }

  @Route('POST', ':id/reserve', {
    summary: 'Take a lens from the shelf for an approved order that asks for exactly this one.',
    access: 'signed-in',
    answer: LensDetail,
  })
  reserve(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReserveLens }) input: ReserveLens,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => reserveLens(work, id, input));
  }

  @Route('POST', ':id/owner', {
    summary: 'Say whose a lens is.',
    access: 'lens.own',
    answer: LensDetail,
  })
  owner(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: OwnLens }) input: OwnLens,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => ownLens(work, id, input));
  }

  @Route('POST', ':id/discard', {
    summary: 'Take a lens out of use.',
    access: 'lens.discard',
    answer: LensDetail,
  })
  discard(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensDetail> {
    return this.step(me, id, (work) => discardLens(work, id, input));
  }

  @Route('POST', ':id/return', {
    summary: 'Start sending a lens back.',
    access: 'lens.return',
    answer: ReturnSummary,
    status: 201,
  })
  async return(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: StartReturn }) input: StartReturn,
  ): Promise<ReturnSummary> {
    const returnId = await this.database.work(me, (work) => startReturn(work, id, input));
    return this.database.work(me, (work) => showReturn(work, returnId));
  }
}
