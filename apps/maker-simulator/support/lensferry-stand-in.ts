import { createServer } from 'node:http';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { MakerMessage } from '@lensferry/contracts';
import { Webhook } from 'standardwebhooks';
import { expect } from 'vitest';
import type { MakerSettings } from '../src/settings.js';

export const secret = `whsec_${Buffer.from('a secret of thirty-two characters').toString('base64')}`;
export const maker: MakerSettings = {
  code: 'TERN',
  secret,
  workingDays: { min: 5, max: 9 },
  declineShare: 0,
  highCylinderFromD: 4,
  gtinPrefix: '9506000',
  labelScheme: 'gs1',
  returnDays: 30,
  creditShare: 0.8,
  listPrice: 1000,
  currency: 'EUR',
};

export const order = (n: number, more: object = {}) => ({
  document: 'lens-order',
  version: 1,
  orderNumber: `LF-2611-${String(n).padStart(4, '0')}`,
  caseCode: 'EST-0042R',
  clinic: { code: 'EST', name: 'Estuary Eye Clinic' },
  eye: 'RIGHT',
  lens: {
    designCode: 'TERN-T',
    designVersion: 3,
    sphereD: -9.25,
    cylinderD: -4.75,
    axisDeg: 32,
    lengthMm: 12.5,
  },
  specificationHash: 'a'.repeat(64),
  needBy: null,
  replaces: null,
  urgent: false,
  signedBy: 'Dr I. Example',
  signedAt: '2026-11-25T08:00:00.000Z',
  placedAt: '2026-11-25T08:05:00.000Z',
  ...more,
});
export const notice = (n: number, serial: string) => ({
  document: 'lens-return',
  version: 1,
  returnNumber: `LR-2611-${String(n).padStart(4, '0')}`,
  serial,
  designCode: 'TERN-T',
  orderNumber: order(1).orderNumber,
  reason: 'vault-high',
  clinic: { code: 'EST', name: 'Estuary Eye Clinic' },
});

function signedHeaders(body: string, key: string | null, signer = secret): Record<string, string> {
  const now = new Date();
  const id = `msg_${key}`;
  return {
    'content-type': 'application/json',
    'webhook-id': id,
    'webhook-timestamp': String(Math.floor(now.getTime() / 1000)),
    'webhook-signature': new Webhook(signer).sign(id, now, body),
    ...(key !== null && { 'idempotency-key': key }),
  };
}

export function post(url: string, document: unknown, key: string | null, path = 'orders', signer = secret) {
  const body = typeof document === 'string' ? document : JSON.stringify(document);
  return fetch(`${url}/makers/TERN/${path}`, {
    method: 'POST',
    headers: signedHeaders(body, key, signer),
    body,
  });
}

/** A stand-in for Lensferry that checks signatures and lets a test wait for what arrives. */
export class Inbox {
  readonly arrived: { id: string; message: MakerMessage }[] = [];
  private readonly statuses: number[] = [];
  private waiting: { enough: () => boolean; done: () => void }[] = [];
  private constructor(
    private readonly server: Server,
    readonly url: string,
  ) {}

  static async open(): Promise<Inbox> {
    const server = createServer();
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const inbox = new Inbox(server, `http://127.0.0.1:${(server.address() as AddressInfo).port}`);
    server.on('request', (request, response) => {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        const body = Buffer.concat(chunks).toString('utf8');
        const json = new Webhook(secret).verify(body, request.headers as Record<string, string>);
        expect(request.url).toBe('/api/maker-messages/TERN');
        inbox.arrived.push({ id: String(request.headers['webhook-id']), message: MakerMessage.parse(json) });
        response.writeHead(inbox.statuses.shift() ?? 204).end();
        inbox.waiting = inbox.waiting.filter(({ enough, done }) => (enough() ? (done(), false) : true));
      });
    });
    return inbox;
  }

  answerNext(...statuses: number[]): void {
    this.statuses.push(...statuses);
  }

  until(enough: () => boolean): Promise<void> {
    return enough() ? Promise.resolve() : new Promise((done) => this.waiting.push({ enough, done }));
  }

  ids(type: MakerMessage['type']): Set<string> {
    return new Set(this.arrived.filter(({ message }) => message.type === type).map(({ id }) => id));
  }

  first<T extends MakerMessage['type']>(type: T): Extract<MakerMessage, { type: T }> {
    return this.arrived.find(({ message }) => message.type === type)?.message as Extract<
      MakerMessage,
      { type: T }
    >;
  }

  close(): Promise<unknown> {
    this.server.closeAllConnections();
    return new Promise((done) => this.server.close(done));
  }
}
