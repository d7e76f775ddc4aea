import { Body, Controller, Inject, Param } from '@nestjs/common';
import {
  AcceptTransfer,
  Id,
  LensTransfer,
  LensTransfers,
  OfferLens,
  ReasonedStep,
  ReceiveTransfer,
  SendTransfer,
  TakeBackTransfer,
} from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import {
  acceptTransfer,
  endTransfer,
  loseTransfer,
  sendTransfer,
  takeBackTransfer,
} from './move-transfer.js';
import { offerLens } from './offer-lens.js';
import { receiveTransfer } from './receive-transfer.js';
import { listTransfers, showTransfer } from './transfers.queries.js';

@Controller('api')
export class TransfersController {
  constructor(@Inject(Database) private readonly database: Database) {}

  private async step(
    me: Actor,
    id: string,
    useCase: (work: Work) => Promise<unknown>,
  ): Promise<LensTransfer> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showTransfer(work, id));
  }

  @Route('GET', 'transfers', {
    summary: 'Lenses that go from one clinic of the network to another.',
    access: 'lens.read',
    answer: LensTransfers,
  })
  async list(@Me() me: Actor): Promise<LensTransfers> {
    return { items: await this.database.work(me, listTransfers) };
  }

  @Route('GET', 'transfers/:id', { summary: 'One transfer.', access: 'lens.read', answer: LensTransfer })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<LensTransfer> {
    return this.database.work(me, (work) => showTransfer(work, id));
  }

  @Route('POST', 'lenses/:id/offer', {
    summary: 'Offer a free lens to another clinic, or to whoever of the network needs it.',
    access: 'lens.transfer',
    answer: LensTransfer,
    status: 201,
  })
  async offer(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: OfferLens }) input: OfferLens,
  ): Promise<LensTransfer> {
    const transferId = await this.database.work(me, (work) => offerLens(work, id, input));
    return this.database.work(me, (work) => showTransfer(work, transferId));
  }

  @Route('POST', 'transfers/:id/accept', {
    summary: 'Take an offered lens up for a signed order that asks for exactly it.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  accept(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: AcceptTransfer }) input: AcceptTransfer,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => acceptTransfer(work, id, input));
  }

  @Route('POST', 'transfers/:id/decline', {
    summary: 'Say that an offered lens is not needed.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  decline(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => endTransfer(work, id, 'decline', input));
  }

  @Route('POST', 'transfers/:id/withdraw', {
    summary: 'Take an offer back before the lens has left.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  withdraw(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => endTransfer(work, id, 'withdraw', input));
  }

  @Route('POST', 'transfers/:id/send', {
    summary: 'Say that the lens has left for the other clinic.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  send(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: SendTransfer }) input: SendTransfer,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => sendTransfer(work, id, input));
  }

  @Route('POST', 'transfers/:id/receive', {
    summary: 'Take the lens in, with its pack read and compared.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  receive(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReceiveTransfer }) input: ReceiveTransfer,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => receiveTransfer(work, id, input));
  }

  @Route('POST', 'transfers/:id/refuse', {
    summary: 'Refuse a lens that came: another pack, damaged, or not needed any more.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  refuse(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => endTransfer(work, id, 'refuse', input));
  }

  @Route('POST', 'transfers/:id/take-back', {
    summary: 'Put a refused lens back onto the giver’s shelf.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  takeBack(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: TakeBackTransfer }) input: TakeBackTransfer,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => takeBackTransfer(work, id, input));
  }

  @Route('POST', 'transfers/:id/lose', {
    summary: 'Write off a lens that never arrived.',
    access: 'lens.transfer',
    answer: LensTransfer,
  })
  lose(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<LensTransfer> {
    return this.step(me, id, (work) => loseTransfer(work, id, input));
  }
}
