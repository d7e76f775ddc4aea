import { Body, Controller, Inject } from '@nestjs/common';
import { ArrivalReading, ReadArrival } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { readArrival } from './read-arrival.js';

@Controller('api/arrivals')
export class ArrivalsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('POST', 'read', {
    summary: 'Read a label and compare it with its order; nothing is written.',
    access: 'arrival.receive',
    answer: ArrivalReading,
  })
  read(@Me() me: Actor, @Body({ schema: ReadArrival }) input: ReadArrival): Promise<ArrivalReading> {
    return this.database.work(me, (work) => readArrival(work, input));
  }
}
