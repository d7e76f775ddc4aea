import { Body, Controller, Inject } from '@nestjs/common';
import { NetworkLimits, SetLimit } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { showLimits } from './limits.store.js';
import { setLimit } from './set-limit.js';

@Controller('api/limits')
export class LimitsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'The limits that plans, vaults and arrivals are judged by, and who set them.',
    access: 'case.read',
    answer: NetworkLimits,
  })
  list(@Me() me: Actor): Promise<NetworkLimits> {
    return this.database.work(me, showLimits);
  }

  @Route('POST', '', {
    summary: 'Set one limit of the network by a signature.',
    access: 'limit.set',
    answer: NetworkLimits,
  })
  set(@Me() me: Actor, @Body({ schema: SetLimit }) body: SetLimit): Promise<NetworkLimits> {
    return this.database.work(me, async (work) => {
      await setLimit(work, body);
      return showLimits(work);
    });
  }
}
