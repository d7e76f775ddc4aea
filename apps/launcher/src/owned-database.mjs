import pg from 'pg';

export const OWNER = 'lensferry';

/**
 * Makes sure that the login which owns Lensferry's tables exists, and a database that is its own. The login is
 * no superuser: what works here works with a database that somebody else administers, and a policy that binds
 * the owner binds it here too.
 *
 * @returns the DATABASE_URL for it
 */
export async function ensureOwnedDatabase(server, { database, password }) {
  const client = new pg.Client({ connectionString: server.superuserUrl() });
  await client.connect();
  try {
    const login = client.escapeIdentifier(OWNER);
    const known = await client.query('SELECT FROM pg_roles WHERE rolname = $1', [OWNER]);
    const verb = known.rowCount ? 'ALTER' : 'CREATE';
    await client.query(
      `${verb} ROLE ${login} LOGIN NOSUPERUSER CREATEROLE PASSWORD ${client.escapeLiteral(password)}`,
    );
    const made = await client.query('SELECT FROM pg_database WHERE datname = $1', [database]);
    if (!made.rowCount)
      await client.query(`CREATE DATABASE ${client.escapeIdentifier(database)} OWNER ${login}`);
  } finally {
    await client.end();
  }
  return server.address(OWNER, password, database);
}
