import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply } from 'fastify';

/** The place in index.html where each answer puts its own nonce. */
const noncePlace = /__CSP_NONCE__/g;

/**
 * Serves the admin's files. Every address that is neither the API's nor a file gives the one page, with a fresh nonce
 * for its styles and a policy that lets it speak to this host only.
 */
export async function serveAdmin(fastify: FastifyInstance, folder: string): Promise<void> {
  const pageFile = join(folder, 'index.html');
  if (!existsSync(pageFile)) return;
  const page = readFileSync(pageFile, 'utf8');
  await fastify.register(fastifyStatic, {
    root: resolve(folder),
    wildcard: false,
    index: false,
    // What the build has laid beside a file: the same compressed.
    preCompressed: true,
    // Its own would come after ours and take its place.
    cacheControl: false,
    setHeaders: (reply, path) => {
      reply.setHeader('vary', 'accept-encoding');
      const forGood = path.includes('/assets/');
      reply.setHeader('cache-control', forGood ? 'public, max-age=31536000, immutable' : 'public, max-age=0');
    },
  });
  const answer = (reply: FastifyReply): FastifyReply => {
    const nonce = randomBytes(16).toString('base64');
    return reply
      .header('content-type', 'text/html; charset=utf-8')
      .header('cache-control', 'no-store')
      .header('content-security-policy', contentPolicy(nonce))
      .send(page.replace(noncePlace, nonce));
  };
  fastify.get('/', (_request, reply) => answer(reply));
  fastify.get('/*', (request, reply) => {
    const path = request.url.split('?')[0] ?? '';
    if (/^\/(api|health)(\/|$)/.test(path) || /\.[a-z0-9]{2,5}$/i.test(path)) return reply.callNotFound();
    return answer(reply);
  });
}

export function contentPolicy(nonce: string): string {
  return [
    "default-src 'none'",
    // WebAssembly reads labels from the camera; it is our own file.
    `script-src 'self' 'nonce-${nonce}' 'wasm-unsafe-eval'`,
    `style-src 'self' 'nonce-${nonce}'`,
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "form-action 'self'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
  ].join('; ');
}
