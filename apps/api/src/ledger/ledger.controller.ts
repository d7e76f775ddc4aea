import { Controller, Header, Inject, Query } from '@nestjs/common';
import { Ledger, LedgerQuery } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { exportLedger, showLedger } from './show-ledger.js';

@Controller('api')
export class LedgerController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', 'ledger', {
    summary: 'What was charged, credited, is expected and was given up, by maker and currency.',
    access: 'ledger.read',
    answer: Ledger,
    query: LedgerQuery,
  })
  show(@Me() me: Actor, @Query({ schema: LedgerQuery }) query: LedgerQuery): Promise<Ledger> {
    return this.database.work(me, (work) => showLedger(work, query));
  }

  @Route('GET', 'ledger.csv', {
    summary: 'All entries of the ledger as a table.',
    access: 'ledger.read',
    query: LedgerQuery,
    mediaType: 'text/csv',
  })
  @Header('content-type', 'text/csv; charset=utf-8; header=present')
  @Header('content-disposition', 'attachment; filename="lensferry-ledger.csv"')
  @Header('cache-control', 'no-store')
  table(@Me() me: Actor, @Query({ schema: LedgerQuery }) query: LedgerQuery): Promise<string> {
    return this.database.work(me, (work) => exportLedger(work, query));
  }
}
