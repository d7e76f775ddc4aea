import { Body, Controller, Inject } from '@nestjs/common';
import { AddClinic, AddedClinic } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { addClinic } from './clinics.store.js';

@Controller('api/clinics')
export class ClinicsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('POST', '', {
    summary: 'Add a clinic to the network; whoever adds it belongs to it.',
    access: 'people.manage',
    answer: AddedClinic,
    status: 201,
  })
  add(@Me() me: Actor, @Body({ schema: AddClinic }) input: AddClinic): Promise<AddedClinic> {
    return addClinic(this.database, me, input);
  }
}
