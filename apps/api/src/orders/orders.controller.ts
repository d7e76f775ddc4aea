import { Body, Controller, Inject, Param, Query } from '@nestjs/common';
import {
  AcknowledgeOrder,
  FittingLenses,
  Id,
  ListQuery,
  OrderDetail,
  OrderDocument,
  OrderPage,
  PlainStep,
  PromiseOrder,
  ReasonedStep,
  ReceiveLens,
  ShipOrder,
  SignOrder,
} from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { z } from 'zod';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import { receiveLens } from '../receiving/receive-lens.js';
import {
  acknowledgeByHand,
  cancelOrder,
  changePromise,
  declineByHand,
  markDelivered,
  placeOrder,
  requestChanges,
  retryOrder,
  shipByHand,
  submitOrder,
} from './move-order.js';
import { fittingLenses } from '../stock/fitting.queries.js';
import { answerSigned, answerWithOrder } from './answer-with-order.js';
import { listOrders, showOrder } from './orders.queries.js';
import { loadOrder } from './orders.store.js';
import { signOrder } from './sign-order.js';

type Plain = z.infer<typeof PlainStep>;

/** A step names its roles in the order's lifecycle, so these routes ask for a session and the table decides. */
@Controller('api/orders')
export class OrdersController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', '', {
    summary: 'A page of orders.',
    access: 'order.read',
    answer: OrderPage,
    query: ListQuery,
  })
  list(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof OrderPage>> {
    return this.database.work(me, (work) => listOrders(work, query));
  }

  @Route('GET', ':id', { summary: 'Everything about an order.', access: 'order.read', answer: OrderDetail })
  show(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<OrderDetail> {
    return this.database.work(me, (work) => showOrder(work, id));
  }

  @Route('GET', ':id/fitting-lenses', {
    summary: 'Free lenses on the shelf that are exactly what this order asks for.',
    access: 'lens.read',
    answer: FittingLenses,
  })
  fitting(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<FittingLenses> {
    return this.database.work(me, (work) => fittingLenses(work, id));
  }

  @Route('GET', ':id/document', {
    summary: 'The document that its maker gets.',
    access: 'order.read',
    answer: OrderDocument,
  })
  document(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<OrderDocument> {
    return this.database.work(me, async (work) => {
      const { document } = await loadOrder(work, id);
      if (document === null)
        throw new DomainError(
          'missing',
          'order.no-document',
          'The document is written when the order is placed.',
        );
      return document as unknown as OrderDocument;
    });
  }

  @Route('POST', ':id/submit', {
    summary: 'Put an order before the surgeon.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  submit(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => submitOrder(work, id, input));
  }

  @Route('POST', ':id/request-changes', {
    summary: 'Send an order back for changes.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  requestChanges(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => requestChanges(work, id, input));
  }

  @Route('POST', ':id/sign', {
    summary: 'Sign the specification with the password once more.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  sign(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: SignOrder }) input: SignOrder,
  ): Promise<OrderDetail> {
    return answerSigned(this.database, me, id, (work) => signOrder(work, id, input));
  }

  @Route('POST', ':id/place', {
    summary: 'Queue a signed order for its maker.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  place(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => placeOrder(work, id, input));
  }

  @Route('POST', ':id/deliver', {
    summary: 'Say that a maker without messages has been given the order.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  deliver(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => markDelivered(work, id, input));
  }

  @Route('POST', ':id/retry', {
    summary: 'Try once more to reach the maker.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  retry(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PlainStep }) input: Plain,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => retryOrder(work, id, input));
  }

  @Route('POST', ':id/acknowledge', {
    summary: 'Enter a maker’s acknowledgement by hand.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  acknowledge(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: AcknowledgeOrder }) input: z.infer<typeof AcknowledgeOrder>,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => acknowledgeByHand(work, id, input));
  }

  @Route('POST', ':id/promise', {
    summary: 'Enter a changed promise by hand.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  promise(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: PromiseOrder }) input: z.infer<typeof PromiseOrder>,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => changePromise(work, id, input));
  }

  @Route('POST', ':id/decline', {
    summary: 'Enter a maker’s refusal by hand.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  decline(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => declineByHand(work, id, input));
  }

  @Route('POST', ':id/ship', {
    summary: 'Enter a shipping notice by hand.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  ship(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ShipOrder }) input: z.infer<typeof ShipOrder>,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => shipByHand(work, id, input));
  }

  @Route('POST', ':id/cancel', {
    summary: 'Give an order up before its maker has it.',
    access: 'signed-in',
    answer: OrderDetail,
  })
  cancel(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonedStep }) input: ReasonedStep,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => cancelOrder(work, id, input));
  }

  @Route('POST', ':id/receive', {
    summary: 'Take a lens in: accept it or quarantine it.',
    access: 'arrival.receive',
    answer: OrderDetail,
  })
  receive(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReceiveLens }) input: ReceiveLens,
  ): Promise<OrderDetail> {
    return answerWithOrder(this.database, me, id, (work) => receiveLens(work, id, input));
  }
}
