/** Where the time comes from, so that tests and the demo can say what time it is. */
export interface Clock {
  now(): Date;
}

export const systemClock: Clock = { now: () => new Date() };

/** A clock that stands where it is put. */
export class SetClock implements Clock {
  constructor(private at: Date) {}

  now(): Date {
    return this.at;
  }

  set(at: Date): void {
    this.at = at;
  }
}
