import type { OpenExchange } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { lensInEye, loadCaseAt, openExchangeOf, orderOfRound, updateCase } from '../cases/cases.store.js';
import { refreshStage } from '../cases/refresh-stage.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { proposalFor } from './propose-exchange.js';

/** Opens an exchange: why, what was measured, and what this eye's own vault says of each size. A new round begins. */
export async function openExchange(work: Work, caseId: string, input: OpenExchange): Promise<void> {
  work.need('case.exchange');
  const row = await loadCaseAt(work, caseId, input.version);
  const inEye = lensInEye(row);
  if (row.closedAt !== null) throw new DomainError('conflict', 'case.ended', 'This case has been closed.');
  if (inEye === undefined)
    throw new DomainError('refused', 'exchange.no-lens', 'There is no lens in this eye to exchange.');
  if (openExchangeOf(row) !== undefined)
    throw new DomainError('conflict', 'exchange.open', 'An exchange is already open for this eye.');
  const proposal = await proposalFor(work, row);
  if (proposal === null && ['vault_high', 'vault_low'].includes(input.reason))
    throw new DomainError(
      'refused',
      'exchange.no-vault',
      'Measure the vault first: the new size rests on it.',
      {},
      [{ pointer: '/reason', message: 'Measure the vault first.' }],
    );
  const round = row.round + 1;
  const { lengthMm } = inEye.lens.lens as { lengthMm: number };
  const kept = proposal ?? {
    designVersionId: row.orders.find(({ id }) => id === inEye.lens.orderId)?.designVersionId ?? '',
    currentLengthMm: lengthMm,
    measuredVaultUm: null,
    proposedLengthMm: null,
    sizes: [],
    sentence: 'No vault was measured; the size is the surgeon’s to choose.',
    reasons: [],
  };
  await work.tx.exchange.create({
    data: {
      clinicId: row.clinicId,
      id: uuid(),
      caseId,
      lensId: inEye.lensId,
      round,
      reason: input.reason,
      evidence: { note: input.note, vaultUm: kept.measuredVaultUm },
      proposal: kept as unknown as Prisma.InputJsonObject,
      openedAt: work.now,
      openedBy: work.personId,
    },
  });
  await updateCase(work, row, { round });
  work.record({
    clinicId: row.clinicId,
    action: 'case.exchange',
    caseId,
    lensId: inEye.lensId,
    facts: {
      reason: input.reason,
      serial: inEye.lens.serial,
      from: lengthMm,
      to: kept.proposedLengthMm,
      vaultUm: kept.measuredVaultUm,
    },
    why: input.note,
  });
  await refreshStage(work, caseId);
}

/** Gives an exchange up: the lens stays in the eye. An order that is out has to be settled first. */
export async function endExchange(
  work: Work,
  caseId: string,
  { version, why }: { version: number; why: string },
): Promise<void> {
  work.need('case.exchange');
  const row = await loadCaseAt(work, caseId, version);
  const exchange = openExchangeOf(row);
  if (exchange === undefined)
    throw new DomainError('conflict', 'exchange.none', 'No exchange is open for this eye.');
  const order = orderOfRound(row);
  if (order !== undefined && !['cancelled', 'declined', 'rejected'].includes(order.state))
    throw new DomainError('refused', 'exchange.order-open', `Settle order ${order.number} first.`, {
      order: order.number,
      state: order.state,
    });
  await work.tx.exchange.update({
    where: { clinicId_id: { clinicId: row.clinicId, id: exchange.id } },
    data: { endedAt: work.now, endedWhy: why },
  });
  await updateCase(work, row, {});
  work.record({ clinicId: row.clinicId, action: 'case.end-exchange', caseId, why });
  await refreshStage(work, caseId);
}
