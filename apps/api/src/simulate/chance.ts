import { dice } from '../demo/eyes.js';

/** Chances of one case: everything that happens to it is drawn from its own stream, so cases don't disturb each other. */
export class Chance {
  private readonly roll: () => number;

  constructor(seed: number) {
    this.roll = dice(seed);
    // The first numbers of neighbouring seeds resemble each other.
    for (let i = 0; i < 8; i += 1) this.roll();
  }

  /** From 0 to 1. */
  readonly unit = (): number => this.roll();

  happens(share: number): boolean {
    return this.roll() < share;
  }

  between(low: number, high: number): number {
    return low + this.roll() * (high - low);
  }

  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  /** A standard normal number (Box and Muller). */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.roll() * 0.999999)) * Math.cos(2 * Math.PI * this.roll());
  }

  pick<T>(items: readonly T[]): T {
    const found = items[Math.min(items.length - 1, Math.floor(this.roll() * items.length))];
    if (found === undefined) throw new Error('There is nothing to pick from.');
    return found;
  }
}
