import pg from 'pg';

/**
 * A connection that can break at any time. PostgreSQL's driver throws an error that nobody can catch when a connection
 * goes between two statements and nobody listens, which ends the process; here the next statement tells it instead.
 */
export class LastingClient extends pg.Client {
  constructor(config?: string | pg.ClientConfig) {
    super(config);
    this.on('error', () => undefined);
  }
}
