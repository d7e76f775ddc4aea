import { Body, Controller, Inject, Param, Query } from '@nestjs/common';
import {
  AcceptChange,
  AcknowledgeOrder,
  AskedMakers,
  AskMakers,
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
  ToldMaker,
} from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { z } from 'zod';
import { withPassword } from '../people/throttle.js';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import { receiveLens } from '../receiving/receive-lens.js';
import {
  acceptCancellationByHand,
  acknowledgeByHand,
  askToCancel,
  cancelOrder,
  changePromise,
  declineByHand,
  markDelivered,
  placeOrder,
  refuseCancellationByHand,
  requestChanges,
  retryOrder,
  shipByHand,
  submitOrder,
} from './move-order.js';
import {
  acceptChangeByHand,
  askToChange,
  refuseChangeByHand,
  signChange,
  withdrawChange,
} from './change-order.js';
import { fittingLenses } from '../stock/fitting.queries.js';
import { askMakers } from './ask-makers.js';
import { listOrders, showOrder } from './orders.queries.js';
import { loadOrder } from './orders.store.js';
import { signOrder } from './sign-order.js';
import { markTold, tellAgain } from './telling.store.js';

type Plain = z.infer<typeof PlainStep>;

/** A step names its roles in the order's lifecycle, so these routes ask for a session and the table decides. */
@Controller('api/orders')
export class OrdersController {
  constructor(@Inject(Database) private readonly database: Database) {}

  private async step(me: Actor, id: string, useCase: (work: Work) => Promise<unknown>): Promise<OrderDetail> {
    await this.database.work(me, useCase);
    return this.database.work(me, (work) => showOrder(work, id));
  }

  /** A step that asks for the password once more; wrong ones are throttled. */
  private async signed(
    me: Actor,
    id: string,
    useCase: (work: Work) => Promise<unknown>,
  ): Promise<OrderDetail> {
    await withPassword(this.database, me, useCase);
    return this.database.work(me, (work) => showOrder(work, id));
  }

  @Route('GET', '', {
    summary: 'A page of orders.',
    access: 'order.read',
    answer: OrderPage,
    query: ListQuery,
  })
  list(@Me() me: Actor, @Query({ schema: ListQuery }) query: ListQuery): Promise<z.infer<typeof OrderPage>> {
    return this.database.work(me, (work) => listOrders(work, query));
  }

  @Route('POST', 'inquiries', {
    summary: 'Ask the makers of some orders when the lenses will come.',
    access: 'maker.tell',
    answer: AskedMakers,
  })
  ask(@Me() me: Actor, @Body({ schema: AskMakers }) input: AskMakers): Promise<AskedMakers> {
    return this.database.work(me, (work) => askMakers(work, input));
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
    return this.step(me, id, (work) => submitOrder(work, id, input));
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
    return this.step(me, id, (work) => requestChanges(work, id, input));
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
    return this.signed(me, id, (work) => signOrder(work, id, input));
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
    return this.step(me, id, (work) => placeOrder(work, id, input));
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
    return this.step(me, id, (work) => markDelivered(work, id, input));
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
    return this.step(me, id, (work) => retryOrder(work, id, input));
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
    return this.step(me, id, (work) => acknowledgeByHand(work, id, input));
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
    return this.step(me, id, (work) => changePromise(work, id, input));
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
    return this.step(me, id, (work) => declineByHand(work, id, input));
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
    return this.step(me, id, (work) => shipByHand(work, id, input));
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
    return this.step(me, id, (work) => cancelOrder(work, id, input));
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
    return this.step(me, id, (work) => receiveLens(work, id, input));
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
    return this.step(me, id, (work) => askToCancel(work, id, input));
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
    return this.step(me, id, (work) => acceptCancellationByHand(work, id, input));
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
    return this.step(me, id, (work) => refuseCancellationByHand(work, id, input));
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
    return this.step(me, id, (work) => askToChange(work, id, input));
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
    return this.signed(me, id, (work) => signChange(work, id, input));
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
    return this.step(me, id, (work) => withdrawChange(work, id, input));
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
    return this.step(me, id, (work) => tellAgain(work, id, input));
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
    return this.step(me, id, (work) => markTold(work, id, input));
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
    return this.step(me, id, (work) => acceptChangeByHand(work, id, input));
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
    return this.step(me, id, (work) => refuseChangeByHand(work, id, input));
  }
}
