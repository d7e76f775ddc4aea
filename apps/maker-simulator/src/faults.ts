import { z } from 'zod';
import type { Mishaps } from './plan-messages.js';
import { invalidInput, Problem } from './problem.js';

const count = z.int().min(0).max(1000);

const FaultOrder = z.strictObject({
  failNext: count.optional(),
  status: z.int().min(400).max(599).default(503),
  /** True: the document is received, but the answer is lost, as when a line breaks at the worst moment. */
  afterReceiving: z.boolean().default(false),
  declineNext: count.optional(),
  wrongEchoNext: count.optional(),
  wrongLabelNext: count.optional(),
});

/** Faults that a test ordered for one maker; they live in memory and end with the process. */
export class Faults {
  private failing = 0;
  private status = 503;
  private afterReceiving = false;
  private readonly mishaps = { decline: 0, wrongEcho: 0, wrongLabel: 0 };

  /** Takes a test's order. @throws Problem 400 when it is faulty. */
  order(json: unknown): void {
    const parsed = FaultOrder.safeParse(json);
    if (!parsed.success) throw invalidInput(parsed.error);
    const { data } = parsed;
    this.failing = data.failNext ?? this.failing;
    this.status = data.status;
    this.afterReceiving = data.afterReceiving;
    this.mishaps.decline = data.declineNext ?? this.mishaps.decline;
    this.mishaps.wrongEcho = data.wrongEchoNext ?? this.mishaps.wrongEcho;
    this.mishaps.wrongLabel = data.wrongLabelNext ?? this.mishaps.wrongLabel;
  }

  /** Throws if the next receipt is to fail at this moment. */
  strike(moment: 'before' | 'after'): void {
    if (this.failing === 0 || (moment === 'after') !== this.afterReceiving) return;
    this.failing -= 1;
    throw new Problem(
      this.status,
      'ordered-fault',
      'A fault that a test ordered',
      `${this.failing} more to come.`,
    );
  }

  /** The mishaps of the next order. */
  takeMishaps(): Mishaps {
    const take = (name: keyof Faults['mishaps']) => {
      if (this.mishaps[name] === 0) return false;
      this.mishaps[name] -= 1;
      return true;
    };
    return { decline: take('decline'), wrongEcho: take('wrongEcho'), wrongLabel: take('wrongLabel') };
  }
}
