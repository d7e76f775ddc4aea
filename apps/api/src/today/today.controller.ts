import { Controller, Inject, Query } from '@nestjs/common';
import { AuditPage, ListQuery, SearchAnswer, Today } from '@lensferry/contracts';
import { z } from 'zod';
import { listAudit } from '../platform/audit.queries.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { search, today } from './today.queries.js';

const SearchQuery = z.strictObject({ q: z.string().trim().max(80) }).meta({ id: 'SearchQuery' });

@Controller('api')
export class TodayController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', 'today', { summary: 'What matters now.', access: 'case.read', answer: Today })
  today(@Me() me: Actor): Promise<Today> {
    return this.database.work(me, today);
  }

  @Route('GET', 'search', {
    summary: 'Find by code, number or serial.',
    access: 'case.read',
    answer: SearchAnswer,
    query: SearchQuery,
  })
  async search(
    @Me() me: Actor,
    @Query({ schema: SearchQuery }) { q }: { q: string },
  ): Promise<z.infer<typeof SearchAnswer>> {
    return { items: await this.database.work(me, (work) => search(work, q)) };
  }

  @Route('GET', 'audit', {
    summary: 'The record, newest first.',
    access: 'audit.read',
    answer: AuditPage,
    query: ListQuery,
  })
  audit(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof AuditPage>> {
    return this.database.work(me, (work) => listAudit(work, query));
  }
}
