/** A reason not to migrate that the operator can act on; the message is one sentence. */
export class MigrationRefused extends Error {
  constructor(
    readonly code:
      | 'migration.changed'
      | 'migration.unknown'
      | 'migration.unfinished'
      | 'migration.failed'
      | 'migration.folder-empty'
      | 'migration.database-unreachable',
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
    this.name = 'MigrationRefused';
  }
}
