import { Body, Controller, Inject } from '@nestjs/common';
import { AddClinic, AddedClinic, ClinicNames } from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { addClinic } from './clinics.store.js';

@Controller('api/clinics')
export class ClinicsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'The clinics of the network by name.',
    access: 'lens.read',
    answer: ClinicNames,
  })
  async list(@Me() me: Actor): Promise<ClinicNames> {
    const rows = await this.database.work(me, ({ tx }) =>
      tx.clinic.findMany({ select: { id: true, code: true, name: true }, orderBy: { name: 'asc' } }),
    );
    return { items: rows };
  }

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
