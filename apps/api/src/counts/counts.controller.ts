import { Body, Controller, Inject, Param } from '@nestjs/common';
import {
  CloseCount,
  CountRead,
  Id,
  ReadForCount,
  ReasonedStep,
  StartCount,
  StockCountDetail,
  StockCounts,
} from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import { closeCount } from './close-count.js';
import { listCounts, showCount } from './counts.queries.js';
import { giveUpCount, startCount } from './counts.store.js';
import { readForCount } from './read-for-count.js';

@Controller('api/stock-counts')
export class CountsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'Counts that are open and the last that ended, and the places where something stands.',
    access: 'lens.read',
    answer: StockCounts,
  })
  list(@Me() me: Actor): Promise<StockCounts> {
    return this.database.work(me, listCounts);
  }

  @Route('POST', '', {
    summary: 'Begin to count what really stands in a place.',
    access: 'lens.count',
    answer: StockCountDetail,
    status: 201,
  })
  async start(@Me() me: Actor, @Body({ schema: StartCount }) input: StartCount): Promise<StockCountDetail> {
    const id = await this.database.work(me, (work) => startCount(work, input));
    return this.database.work(me, (work) => showCount(work, id));
  }

  @Route('GET', ':id', { summary: 'One count.', access: 'lens.read', answer: StockCountDetail })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<StockCountDetail> {
    return this.database.work(me, (work) => showCount(work, id));
  }

  @Route('POST', ':id/readings', {
    summary: 'Read one pack in a count.',
    access: 'lens.count',
    answer: CountRead,
  })
  read(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReadForCount }) { text }: ReadForCount,
  ): Promise<CountRead> {
    return this.database.work(me, (work) => readForCount(work, id, text));
  }

  @Route('POST', ':id/close', {
    summary: 'Close a count with every difference explained.',
    access: 'lens.count',
    answer: StockCountDetail,
  })
  close(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: CloseCount }) input: CloseCount,
  ): Promise<StockCountDetail> {
    return this.step(me, id, (work) => closeCount(work, id, input));
  }

  @Route('POST', ':id/give-up', {
    summary: 'End a count that counts for nothing.',
    access: 'lens.count',
    answer: StockCountDetail,
  })
  giveUp(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<StockCountDetail> {
    return this.step(me, id, (work) => giveUpCount(work, id, input));
  }

  private async step(
    me: Actor,
    id: string,
    useCase: (work: Work) => Promise<unknown>,
  ): Promise<StockCountDetail> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showCount(work, id));
  }
}
