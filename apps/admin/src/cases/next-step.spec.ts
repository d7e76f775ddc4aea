import { describe, expect, it } from 'vitest';
import type { CaseDetail } from '@lensferry/contracts';
import { nextStepOf, presentOrder } from './next-step';

const order = (id: string, openedAt: string, steps: string[], round = 1) => ({
  id,
  openedAt,
  steps,
  round,
  companionOf: null as { id: string; number: string } | null,
});
const base = {
  round: 1,
  inExchange: false,
  theatreOn: null,
  orders: [],
  vaultChecks: [],
  implantations: [],
  actions: [],
  waiting: { for: 'plan' },
};
const of = (more: object) => ({ ...base, ...more }) as unknown as CaseDetail;

describe('the next step of a case', () => {
  it('leaves a smaller lens beside the present order aside', () => {
    const beside = {
      ...order('beside', '2026-03-01', ['place']),
      companionOf: { id: 'new', number: 'LE-1' },
    };
    const orders = [order('new', '2026-02-01', ['sign']), beside] as never;
    expect(presentOrder(of({ orders }))).toMatchObject({ id: 'new' });
  });

  it('is the step of its present order when the person can take it', () => {
    const orders = [order('old', '2026-01-01', ['place']), order('new', '2026-02-01', ['sign'])];
    expect(nextStepOf(of({ orders, waiting: { for: 'signature' } }))).toMatchObject({
      kind: 'order',
      step: 'sign',
      order: { id: 'new' },
    });
  });

  it('leaves the orders of an earlier round alone', () => {
    expect(presentOrder(of({ round: 2, orders: [order('old', '2026-01-01', ['sign'])] }))).toBeNull();
  });

  it('is a plan when that is waited for and allowed, else nothing', () => {
    expect(nextStepOf(of({ actions: ['plan'] }))).toEqual({ kind: 'case', action: 'plan' });
    expect(nextStepOf(of({ actions: [] }))).toEqual({ kind: 'none' });
  });

  it('asks for a theatre date before an implantation', () => {
    const waiting = { for: 'surgery' };
    expect(nextStepOf(of({ waiting, actions: ['implant', 'schedule'] }))).toMatchObject({
      action: 'schedule',
    });
    expect(
      nextStepOf(of({ waiting, actions: ['implant', 'schedule'], theatreOn: '2026-12-01' })),
    ).toMatchObject({ action: 'implant' });
  });

  it('is the exchange when the latest vault is poor', () => {
    const vaultChecks = [
      { takenOn: '2026-03-01', level: 'fine', lensId: 'now' },
      { takenOn: '2026-04-01', level: 'caution', lensId: 'now' },
    ];
    const implantations = [{ lensId: 'now', explantedOn: null }];
    const waiting = { for: 'next-visit' };
    expect(
      nextStepOf(of({ vaultChecks, implantations, waiting, actions: ['measure', 'exchange'] })),
    ).toMatchObject({
      action: 'exchange',
    });
    expect(
      nextStepOf(
        of({
          vaultChecks: vaultChecks.slice(0, 1),
          implantations,
          waiting,
          actions: ['measure', 'exchange'],
        }),
      ),
    ).toMatchObject({ action: 'measure' });
  });

  it('does not blame the lens in the eye for the vault of the one before it', () => {
    const vaultChecks = [{ takenOn: '2026-03-01', level: 'stop', lensId: 'first' }];
    const implantations = [
      { lensId: 'first', explantedOn: '2026-04-01' },
      { lensId: 'now', explantedOn: null },
    ];
    const waiting = { for: 'first-visit' };
    expect(
      nextStepOf(of({ vaultChecks, implantations, waiting, actions: ['measure', 'exchange'] })),
    ).toMatchObject({
      action: 'measure',
    });
  });
});
