import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { findFreePort } from '../../../apps/launcher/src/free-port.mjs';
import { launch, NPM_START, treeOf } from '../../support/launch.js';
import { middle } from './many-asks.js';

const starts = 5;
const wantedMs = 5000;
const settleMs = 20_000;

/** `npm start` with everything built and the demo loaded: how long until it answers, and what it then holds. */
it('starts warm, and rests in little memory', { timeout: 900_000 }, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'lensferry-start-'));
  const env = { DATA_DIR: folder, PORT: String(await findFreePort()) };
  const started = async () => {
    const from = performance.now();
    const running = launch(env, [], NPM_START);
    await running.ready;
    return { running, ms: performance.now() - from };
  };
  const end = async ({ child, ended }: ReturnType<typeof launch>) => {
    child.kill('SIGTERM');
    await ended;
  };
  try {
    const first = await started();
    await end(first.running);
    const times: number[] = [];
    for (let turn = 0; turn < starts; turn += 1) {
      const { running, ms } = await started();
      times.push(ms);
      if (turn === starts - 1) {
        // Memory at rest: what start-up needed has been given back by then.
        await pause(settleMs);
        const parts = await memoryOf(treeOf(running.child.pid ?? 0));
        const total = parts.reduce((sum, { mb }) => sum + mb, 0);
        const listed = [...new Set(parts.map(({ name }) => name))]
          .map((name) => {
            const some = parts.filter((part) => part.name === name);
            return `${name} ${some.reduce((sum, { mb }) => sum + mb, 0).toFixed(0)} (${some.length})`;
          })
          .join(', ');
        console.log(`  idle memory of the whole tree (PSS, MB): ${total.toFixed(0)}: ${listed}`);
        expect(parts.length).toBeGreaterThan(3);
      }
      await end(running);
    }
    const ms = middle(times);
    console.log(
      `${ms <= wantedMs ? '✓' : '✗'} first start with the demo ${(first.ms / 1000).toFixed(1)} s, warm start ${(ms / 1000).toFixed(1)} s in the middle of ${starts} (wanted: ${wantedMs / 1000})`,
    );
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});

/** Proportional set size: memory that processes share is counted once. */
async function memoryOf(pids: readonly number[]): Promise<{ name: string; mb: number }[]> {
  const parts = [];
  for (const pid of pids) {
    const [rollup, name] = await Promise.all(
      ['smaps_rollup', 'comm'].map((file) => readFile(`/proc/${pid}/${file}`, 'utf8').catch(() => '')),
    );
    const kb = Number(/^Pss:\s+(\d+)/m.exec(rollup ?? '')?.[1]);
    if (Number.isFinite(kb)) parts.push({ name: (name ?? '').trim(), mb: kb / 1024 });
  }
  return parts;
}
