const REMIND_EVERY_MS = 10_000;

/** Says what a slow step is doing, every ten seconds that it is not dead, and how long it took. */
export async function withProgress(log, doing, work) {
  const start = Date.now();
  const seconds = () => Math.round((Date.now() - start) / 1000);
  log(`${doing} …`);
  const reminder = setInterval(() => log(`${doing} … ${seconds()} s`), REMIND_EVERY_MS);
  try {
    const result = await work();
    log(`${doing}: done in ${seconds()} s`);
    return result;
  } finally {
    clearInterval(reminder);
  }
}
