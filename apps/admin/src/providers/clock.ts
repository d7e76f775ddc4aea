let aheadMs = 0;

/** Sets the clock of the screens by the server's, so that a wrong clock on a ward's machine moves no date. */
export function setClock(serverNow: string): void {
  aheadMs = Date.parse(serverNow) - Date.now();
}

/** The server's now. */
export function now(): Date {
  return new Date(Date.now() + aheadMs);
}
