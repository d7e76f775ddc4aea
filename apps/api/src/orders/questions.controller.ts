import { Body, Controller, Inject, Param } from '@nestjs/common';
import {
  AcceptChange,
  AskedMakers,
  AskMakers,
  Id,
  OrderDetail,
  PlainStep,
  ReasonedStep,
  SignOrder,
  ToldMaker,
} from '@lensferry/contracts';
import type { z } from 'zod';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { answerSigned, answerWithOrder } from './answer-with-order.js';
import { askMakers } from './ask-makers.js';
import {
  acceptChangeByHand,
  askToChange,
  refuseChangeByHand,
  signChange,
  withdrawChange,
} from './change-order.js';
import { acceptCancellationByHand, askToCancel, refuseCancellationByHand } from './move-order.js';
import { markTold, tellAgain } from './telling.store.js';

type Plain = z.infer<typeof PlainStep>;

/** What makers are asked of orders that they have: when they come, to change them, to cancel them. */
@Controller('api/orders')
export class QuestionsController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('POST', 'inquiries', {
    summary: 'Ask the makers of some orders when the lenses will come.',
    access: 'maker.tell',
    answer: AskedMakers,
  })
  ask(@Me() me: Actor, @Body({ schema: AskMakers }) input: AskMakers): Promise<AskedMakers> {
    return this.database.work(me, (work) => askMakers(work, input));
  }

  @Route('POST', ':id/ask-cancel', {
    summary: 'Ask the maker to cancel an order that it has.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  askCancel(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => askToCancel(work, id, input));
  }

  @Route('POST', ':id/accept-cancel', {
    summary: 'Enter that the maker agreed to cancel.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  acceptCancel(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => acceptCancellationByHand(work, id, input));
  }

  @Route('POST', ':id/refuse-cancel', {
    summary: 'Enter that it is too late to cancel.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  refuseCancel(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => refuseCancellationByHand(work, id, input));
  }

  @Route('POST', ':id/ask-change', {
    summary: 'Tell the maker of another need-by date once more.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  askChange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => askToChange(work, id, input));
  }

  @Route('POST', ':id/sign-change', {
    summary: 'Sign the changed specification; the maker is asked to make it instead.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  signChange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: SignOrder }) input: SignOrder,
  ): Promise<OrderDetail> {
    return answerSigned(this.database, me, id, (work) => signChange(work, id, input));
  }

  @Route('POST', ':id/withdraw-change', {
    summary: 'Drop a change that was not signed.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  withdrawChange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => withdrawChange(work, id, input));
  }

  @Route('POST', ':id/tell-again', {
    summary: 'Send a change or cancellation once more that did not reach its maker.',
    access: 'maker.tell',
    answer: OrderDetail,
  })
  tellAgain(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => tellAgain(work, id, input));
  }

  @Route('POST', ':id/told', {
    summary: 'Say that a maker was told of a change or cancellation by hand.',
    access: 'maker.tell',
    answer: OrderDetail,
  })
  told(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ToldMaker }) input: z.infer<typeof ToldMaker>,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => markTold(work, id, input));
  }

  @Route('POST', ':id/accept-change', {
    summary: 'Enter that the maker agreed to the change.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  acceptChange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: AcceptChange }) input: z.infer<typeof AcceptChange>,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => acceptChangeByHand(work, id, input));
  }

  @Route('POST', ':id/refuse-change', {
    summary: 'Enter that the maker can’t change the order.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  refuseChange(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => refuseChangeByHand(work, id, input));
  }
}
