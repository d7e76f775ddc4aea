import { Controller, Inject, Query } from '@nestjs/common';
import { Recall, RecallQuery } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { recall } from './recall.queries.js';

@Controller('api')
export class RecallController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', 'recall', {
    summary: 'Every unit of a lot or a design, and the eyes affected.',
    access: 'lens.read',
    query: RecallQuery,
    answer: Recall,
  })
  recall(@Me() me: Actor, @Query({ schema: RecallQuery }) query: RecallQuery): Promise<Recall> {
    return this.database.work(me, (work) => recall(work, query));
  }
}
