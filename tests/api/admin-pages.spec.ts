import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib';
import fastify, { type FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveAdmin } from '../../apps/api/dist/platform/admin-pages.js';

const script = 'console.log("a lens under way");'.repeat(100);

describe('the admin’s files', () => {
  let folder: string;
  let server: FastifyInstance;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'lensferry-pages-'));
    await mkdir(join(folder, 'assets'));
    await writeFile(join(folder, 'index.html'), '<script nonce="__CSP_NONCE__"></script>');
    await writeFile(join(folder, 'assets/a.js'), script);
    await writeFile(join(folder, 'assets/a.js.gz'), gzipSync(script));
    await writeFile(join(folder, 'assets/a.js.br'), brotliCompressSync(script));
    await writeFile(join(folder, 'assets/plain.js'), script);
    server = fastify();
    await serveAdmin(server as never, folder);
    await server.ready();
  });
  afterAll(async () => {
    await server?.close();
    await rm(folder, { recursive: true, force: true });
  });
  const ask = (url: string, encodings: string) =>
    server.inject({ url, headers: { 'accept-encoding': encodings } });

  it.each([
    ['br', 'gzip, deflate, br', brotliDecompressSync],
    ['gzip', 'gzip', gunzipSync],
  ] as const)(
    'are sent as the build compressed them, where the browser reads %s',
    async (name, asked, open) => {
      const { headers, rawPayload, statusCode } = await ask('/assets/a.js', asked);
      expect(statusCode).toBe(200);
      expect(headers).toMatchObject({
        'content-encoding': name,
        'content-type': expect.stringContaining('javascript'),
        'cache-control': 'public, max-age=31536000, immutable',
        vary: 'accept-encoding',
      });
      expect(open(rawPayload).toString()).toBe(script);
      expect(rawPayload.length).toBeLessThan(script.length / 4);
    },
  );

  it('are sent as they are where the browser or the build has no other form', async () => {
    for (const [url, encodings] of [
      ['/assets/a.js', 'identity'],
      ['/assets/plain.js', 'gzip, br'],
    ] as const) {
      const { headers, payload } = await ask(url, encodings);
      expect(headers['content-encoding'], url).toBeUndefined();
      expect(payload, url).toBe(script);
    }
  });

  it('give every other address the one page, each time with another nonce', async () => {
    const pages = [await ask('/orders/7', 'gzip'), await ask('/', 'gzip')];
    const nonces = pages.map(({ payload }) => /nonce="([^"]+)"/.exec(payload)?.[1]);
    expect(new Set(nonces).size).toBe(2);
    for (const [at, { headers }] of pages.entries())
      expect(headers['content-security-policy']).toContain(`'nonce-${nonces[at]}'`);
    expect((await ask('/nothing.js', 'gzip')).statusCode).toBe(404);
    expect((await ask('/api/nothing', 'gzip')).statusCode).toBe(404);
  });
});
