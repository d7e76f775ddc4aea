import type { SignOrder } from '@lensferry/contracts';
import {
  DomainError,
  nextState,
  orderLifecycle,
  specificationDifferences,
  type OrderEvent,
  type Specification,
} from '@lensferry/domain';
import { changeDocument } from '../dispatch/order-document.js';
import { fromDateOrNull, toDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { changeOf, needByUntold, toldNeedBy, type Amended, type OrderChange } from './order-change.js';
import { tellingAsked } from './telling.store.js';
import { loadOrder, loadOrderAt, takeStep, type OrderRow } from './orders.store.js';
import {
  keepSignature,
  meaningOf,
  requireReasons,
  requireShown,
  requireSigner,
  voidSignature,
} from './sign-order.js';

interface Seen {
  readonly version: number;
}

/** The state speaks before the details do: who comes too late is told where the order stands. */
const requireStep = ({ actor }: Work, { state }: OrderRow, event: OrderEvent): unknown =>
  nextState(orderLifecycle, state, event, actor.kind);

const asJson = (change: OrderChange): Prisma.InputJsonObject => change as unknown as Prisma.InputJsonObject;

/** Tells the maker of another need-by date, once it has acknowledged the order and while nothing else is asked. */
export async function tellNeedBy(work: Work, orderId: string): Promise<void> {
  const order = await loadOrder(work, orderId);
  if (order.state === 'acknowledged' && needByUntold(order)) await askNeedBy(work, order);
}

/** The same by a person, for a date that was refused or moved while another question was open. */
export async function askToChange(work: Work, orderId: string, { version }: Seen): Promise<void> {
  await askNeedBy(work, await loadOrderAt(work, orderId, version));
}

async function askNeedBy(work: Work, order: OrderRow): Promise<void> {
  requireStep(work, order, 'ask-change');
  if (!needByUntold(order))
    throw new DomainError(
      'refused',
      'order.nothing-to-change',
      'The maker knows the need-by date as it stands; move the theatre date or plan anew to change the order.',
    );
  const needBy = fromDateOrNull(order.needBy);
  const signature = await work.tx.signature.findFirstOrThrow({
    where: { orderId: order.id, voidedAt: null },
  });
  const number = order.changeCount + 1;
  const why = needBy === null ? 'The theatre date was given up.' : `The lens is needed by ${needBy} now.`;
  const document = await changeDocument(work, order, {
    number,
    changed: ['needBy'],
    specification: order.specification as unknown as Specification,
    specificationHash: order.specificationHash,
    needBy,
    why,
    signedBy: signature.signerName,
    signedAt: signature.signedAt.toISOString(),
  });
  await takeStep(work, order, 'ask-change', {
    data: {
      change: asJson({ number, why, amended: null, signature: null, document }),
      changeCount: number,
      note: null,
      telling: await tellingAsked(work, order.makerId),
    },
    facts: {
      changeNumber: number,
      differences: [{ field: 'needBy', before: toldNeedBy(order), after: needBy }],
    },
    why,
  });
  await emitChange(work, order);
}

/**
 * Proposes another specification to an order that its maker has: a surgeon has to sign it before the maker is asked.
 * @throws DomainError `order.other-maker` for a lens of another maker, `order.nothing-to-change`.
 */
export async function proposeChange(
  work: Work,
  order: OrderRow,
  makerId: string,
  amended: Amended,
): Promise<void> {
  if (makerId !== order.makerId)
    throw new DomainError(
      'refused',
      'order.other-maker',
      'This order is with another maker; ask that one to cancel before you order elsewhere.',
    );
  const before = order.specification as unknown as Specification;
  const differences = specificationDifferences(before, amended.specification);
  if (differences.length === 0)
    throw new DomainError(
      'refused',
      'order.nothing-to-change',
      'The plan asks for the very lens that is being made; change it or leave the order as it is.',
    );
  const why = `Another plan changed ${differences.map(({ field }) => field).join(', ')}.`;
  const change = { number: order.changeCount + 1, why, amended, signature: null, document: null };
  await takeStep(work, order, 'propose-change', {
    data: { change: asJson(change) },
    facts: { changeNumber: change.number, differences },
  });
}

/** Signs the amended specification, exactly as it was shown, and asks the maker to make it instead. */
export async function signChange(work: Work, orderId: string, input: SignOrder): Promise<void> {
  const order = await loadOrderAt(work, orderId, input.version);
  const change = changeOf(order);
  if (change?.amended == null || order.state !== 'change_proposed')
    return void (await takeStep(work, order, 'sign-change'));
  const { amended, number } = change;
  const hash = requireShown(amended.specification, amended.specificationHash, input);
  const reasons = await requireReasons(work, amended, input);
  const signer = await requireSigner(work, input.password);
  const signature = {
    signerId: signer.id,
    signerName: signer.name,
    reasons,
    signedAt: work.now.toISOString(),
  };
  const needBy = fromDateOrNull(order.needBy);
  const document = await changeDocument(work, order, {
    number,
    changed: toldNeedBy(order) === needBy ? ['lens'] : ['lens', 'needBy'],
    specification: amended.specification,
    specificationHash: hash,
    needBy,
    why: change.why,
    signedBy: signer.name,
    signedAt: signature.signedAt,
  });
  await takeStep(work, order, 'sign-change', {
    data: {
      change: asJson({ ...change, signature, document }),
      changeCount: number,
      note: null,
      telling: await tellingAsked(work, order.makerId),
    },
    facts: {
      changeNumber: number,
      specificationHash: hash,
      meaning: await meaningOf(work, amended.planId),
      reasons,
    },
  });
  await emitChange(work, order);
}

/** Drops a proposal that was not signed; the order stands as it was. */
export async function withdrawChange(work: Work, orderId: string, { version }: Seen): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'withdraw-change', {
    facts: { changeNumber: changeOf(order)?.number ?? null },
  });
}

/** @throws DomainError `order.change-not-awaited` unless the answer is to the change that waits for one. */
export function requireAwaited(order: OrderRow, number?: number): OrderChange {
  const change = changeOf(order);
  if (change?.document != null && (number === undefined || number === change.number)) return change;
  throw new DomainError(
    'conflict',
    'order.change-not-awaited',
    'No answer to this change is awaited: it was answered before or overtaken, and nothing was changed.',
    { change: number ?? null, awaited: change?.document == null ? null : change.number },
  );
}

/** The maker agreed: what was asked for is in force, and with another specification its new signature. */
export async function acceptChange(
  work: Work,
  order: OrderRow,
  { promisedOn, number }: { promisedOn: string | null; number?: number },
): Promise<void> {
  const { amended, signature, document, number: change } = requireAwaited(order, number);
  const promised = promisedOn === null ? null : toDate(promisedOn);
  await takeStep(work, order, 'accept-change', {
    data: {
      ...(amended === null ? {} : { ...amended, specification: { ...amended.specification } }),
      agreedChange: document as unknown as Prisma.InputJsonObject,
      acknowledgedAt: order.acknowledgedAt ?? work.now,
      ...(promised === null
        ? {}
        : { promisedOn: promised, firstPromisedOn: order.firstPromisedOn ?? promised }),
      note: null,
    },
    facts: {
      changeNumber: change,
      promisedOn,
      ...(amended === null
        ? {}
        : {
            differences: specificationDifferences(
              order.specification as unknown as Specification,
              amended.specification,
            ),
          }),
    },
  });
  if (amended === null || signature === null) return;
  await voidSignature(work, order, `The maker agreed to change ${change}, which was signed anew.`);
  await keepSignature(work, order, amended.planId, {
    specificationHash: amended.specificationHash,
    signerId: signature.signerId,
    signerName: signature.signerName,
    reasons: signature.reasons,
    signedAt: new Date(signature.signedAt),
  });
}

/** The maker can't change it: the order, its specification and its signature stand as they were. */
export async function refuseChange(
  work: Work,
  order: OrderRow,
  { why, number }: { why: string; number?: number },
): Promise<void> {
  const { number: change } = requireAwaited(order, number);
  await takeStep(work, order, 'refuse-change', {
    data: { note: why, acknowledgedAt: order.acknowledgedAt ?? work.now },
    facts: { changeNumber: change },
    why,
  });
}

export async function acceptChangeByHand(
  work: Work,
  orderId: string,
  { version, promisedOn }: Seen & { promisedOn?: string | undefined },
): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  requireStep(work, order, 'accept-change');
  await acceptChange(work, order, { promisedOn: promisedOn ?? null });
}

export async function refuseChangeByHand(
  work: Work,
  orderId: string,
  { version, why }: Seen & { why: string },
): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  requireStep(work, order, 'refuse-change');
  await refuseChange(work, order, { why });
}

async function emitChange(work: Work, order: OrderRow): Promise<void> {
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: order.makerId } });
  if (maker.channel !== 'by_hand') work.emit(order.clinicId, 'order.change', { orderId: order.id });
}
