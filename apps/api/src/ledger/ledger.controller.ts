import { Controller, Header, Inject, Query } from '@nestjs/common';
import { LedgerBalances, LedgerPage, LedgerPageQuery, LedgerQuery } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { exportLedger, listLedger, showBalances } from './show-ledger.js';

@Controller('api')
export class LedgerController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', 'ledger', {
    summary: 'What was charged, credited, is expected and was given up, entry by entry, newest first.',
    access: 'ledger.read',
    answer: LedgerPage,
    query: LedgerPageQuery,
  })
  list(@Me() me: Actor, @Query({ schema: LedgerPageQuery }) query: LedgerPageQuery): Promise<LedgerPage> {
    return this.database.work(me, (work) => listLedger(work, query));
  }

  @Route('GET', 'ledger/balances', {
    summary: 'The sums of all entries by maker and currency, and what is still to come by its age.',
    access: 'ledger.read',
    answer: LedgerBalances,
    query: LedgerQuery,
  })
  balances(@Me() me: Actor, @Query({ schema: LedgerQuery }) query: LedgerQuery): Promise<LedgerBalances> {
    return this.database.work(me, (work) => showBalances(work, query));
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
