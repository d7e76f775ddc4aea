import { Controller, HttpException, Inject } from '@nestjs/common';
import { z } from 'zod';
import type { Settings } from '../config.js';
import { Database } from './database.js';
import { listPendingMigrations } from './migrations/run-migrations.js';
import { Route } from './route.js';
import { settingsToken } from './tokens.js';

const Alive = z.object({ alive: z.literal(true) }).meta({ id: 'Alive' });
const Ready = z.object({ ready: z.literal(true) }).meta({ id: 'Ready' });

@Controller('health')
export class HealthController {
  private migrated = false;

  constructor(
    @Inject(Database) private readonly database: Database,
    @Inject(settingsToken) private readonly settings: Settings,
  ) {}

  @Route('GET', 'live', { summary: 'The process runs.', access: 'anybody', answer: Alive })
  live(): { alive: true } {
    return { alive: true };
  }

  @Route('GET', 'ready', {
    summary: 'The database answers and is migrated.',
    access: 'anybody',
    answer: Ready,
  })
  async ready(): Promise<{ ready: true }> {
    if (!(await this.database.answers())) throw new HttpException('The database does not answer.', 503);
    this.migrated ||= (await listPendingMigrations({ databaseUrl: this.settings.DATABASE_URL })).length === 0;
    if (!this.migrated) throw new HttpException('The database is not migrated yet.', 503);
    return { ready: true };
  }
}
