import type pg from 'pg';
import { LastingClient } from './lasting-client.js';

/** What gives a transaction its clinics, as Prisma writes it; the one parameter is their list. */
const scope = `select set_config('app.clinic_ids', $1, true)`;

interface Statement {
  readonly text: string;
  readonly values?: readonly unknown[];
}

/**
 * A connection that sends the beginning of a transaction together with the statement that scopes it: one way to the
 * database instead of two, with every unit of work. Whatever else comes first in a transaction goes after its beginning.
 */
export class ScopedClient extends LastingClient {
  private toBegin = false;

  // eslint-disable-next-line @typescript-eslint/no-explicit-any -- the driver's one method has a dozen forms
  override query(statement: any, ...rest: any[]): any {
    const { text, values = [] } = statement as Statement;
    if (text === 'BEGIN' && !this.toBegin) {
      this.toBegin = true;
      return Promise.resolve({ rows: [], fields: [], rowCount: null });
    }
    if (!this.toBegin) return super.query(statement, ...(rest as []));
    this.toBegin = false;
    return text === scope ? this.beginScoped(String(values[0])) : this.beginBefore(statement, rest);
  }

  private async beginScoped(clinicIds: string): Promise<pg.QueryResult | undefined> {
    const both = `begin; select set_config('app.clinic_ids', ${this.escapeLiteral(clinicIds)}, true)`;
    // Two statements in one text have two results.
    return ((await super.query(both)) as unknown as pg.QueryResult[]).at(-1);
  }

  private async beginBefore(statement: unknown, rest: unknown[]): Promise<unknown> {
    await super.query('begin');
    return super.query(statement as never, ...(rest as []));
  }
}
