import { spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { findRedis } from '../../apps/launcher/src/redis.mjs';
import { isAlive } from '../../apps/launcher/src/running-process.mjs';
import { startTopology } from '../../apps/launcher/src/topology.mjs';

type Topology = Awaited<ReturnType<typeof startTopology>>;

/** There is no container engine to try docker-compose.yml on, so its processes are tried without one. */
describe.skipIf(!findRedis())('the deployment of docker-compose.yml as plain processes', () => {
  let folder: string;
  let topology: Topology;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'lensferry-topology-'));
    topology = await startTopology({ folder, throwaway: true });
  });

  afterAll(async () => {
    await topology?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  /** Runs a service's health check as Compose would, against one of our processes. */
  const checkHealth = async (service: string, port = '4180') => {
    const compose = parse(await readFile('docker-compose.yml', 'utf8'), { merge: true }) as {
      services: Record<string, { healthcheck: { test: string[] } }>;
    };
    const [kind, program, ...args] = compose.services[service]?.healthcheck.test ?? [];
    expect([kind, program]).toEqual(['CMD', 'node']);
    const words = args.map((word) => word.replace('4180', port));
    const env = { ...process.env, DATABASE_URL: topology.databaseUrl };
    return spawnSync(process.execPath, words, { env, stdio: 'ignore' }).status;
  };

  it('has two APIs, each ready, and three workers', async () => {
    expect(topology.names()).toEqual(['api-1', 'api-2', 'worker-1', 'worker-2', 'worker-3']);
    for (const url of topology.apiUrls) expect((await fetch(`${url}/health/ready`)).status).toBe(200);
    for (const name of topology.names()) expect(isAlive(topology.pidOf(name)), name).toBe(true);
  });

  it('passes the health checks of the file, and fails them when the API is gone', async () => {
    const { port } = new URL(topology.apiUrls[0] ?? '');
    expect(await checkHealth('worker')).toBe(0);
    expect(await checkHealth('api', port)).toBe(0);
    await topology.kill('api-1');
    expect(await checkHealth('api', port)).toBe(1);
    await topology.restart('api-1');
    expect(await checkHealth('api', port)).toBe(0);
  });

  it('serves on with one API when the other is killed', async () => {
    await topology.kill('api-2');
    expect((await fetch(`${topology.apiUrls[0]}/health/ready`)).status).toBe(200);
    await topology.restart('api-2');
    expect((await fetch(`${topology.apiUrls[1]}/health/ready`)).status).toBe(200);
  });

  it('works with an API that speaks of Redis and not of PostgreSQL as its queue', async () => {
    const log = await readFile(join(folder, 'worker-1.log'), 'utf8');
    expect(log).toContain('"queue":"redis"');
  });
});
