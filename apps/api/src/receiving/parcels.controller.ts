import { Body, Controller, Inject, Param } from '@nestjs/common';
import {
  Id,
  KeepParcel,
  MatchParcel,
  ReasonedStep,
  UnexpectedParcel,
  UnexpectedParcels,
} from '@lensferry/contracts';
import type { ParcelEvent } from '@lensferry/domain';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { keepParcel, moveParcel, parcelsToPlace, showParcel } from './parcels.store.js';

const mostShown = 100;

@Controller('api/parcels')
export class ParcelsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'Unexpected parcels that nobody has placed yet, the oldest first.',
    access: 'lens.read',
    answer: UnexpectedParcels,
  })
  async list(@Me() me: Actor): Promise<UnexpectedParcels> {
    return { items: await this.database.work(me, (work) => parcelsToPlace(work, mostShown)) };
  }

  @Route('POST', '', {
    summary: 'Note a parcel that no order waits for.',
    access: 'arrival.receive',
    answer: UnexpectedParcel,
    status: 201,
  })
  async keep(@Me() me: Actor, @Body({ schema: KeepParcel }) input: KeepParcel): Promise<UnexpectedParcel> {
    const id = await this.database.work(me, (work) => keepParcel(work, input));
    return this.database.work(me, (work) => showParcel(work, id));
  }

  @Route('GET', ':id', {
    summary: 'One unexpected parcel.',
    access: 'lens.read',
    answer: UnexpectedParcel,
  })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<UnexpectedParcel> {
    return this.database.work(me, (work) => showParcel(work, id));
  }

  @Route('POST', ':id/match', {
    summary: 'Say which order an unexpected parcel belongs to; its lens is then taken in as usual.',
    access: 'arrival.receive',
    answer: UnexpectedParcel,
  })
  match(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: MatchParcel }) input: MatchParcel,
  ): Promise<UnexpectedParcel> {
    return this.step(me, id, 'match', input);
  }

  @Route('POST', ':id/send-back', {
    summary: 'An unexpected parcel goes back to whoever sent it.',
    access: 'arrival.receive',
    answer: UnexpectedParcel,
  })
  sendBack(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<UnexpectedParcel> {
    return this.step(me, id, 'send-back', input);
  }

  @Route('POST', ':id/hand-over', {
    summary: 'An unexpected parcel was handed over to the clinic that it belongs to.',
    access: 'arrival.receive',
    answer: UnexpectedParcel,
  })
  handOver(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<UnexpectedParcel> {
    return this.step(me, id, 'hand-over', input);
  }

  private async step(
    me: Actor,
    id: string,
    event: ParcelEvent,
    input: { version: number; why: string; orderId?: string },
  ): Promise<UnexpectedParcel> {
    await this.database.work(me, (work) => moveParcel(work, id, event, input));
    return this.database.work(me, (work) => showParcel(work, id));
  }
}
