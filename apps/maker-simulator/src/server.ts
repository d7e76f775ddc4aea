import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { Book, Receipt } from './book.js';
import type { Courier, Log } from './courier.js';
import { Faults } from './faults.js';
import { Problem } from './problem.js';
import { receiveDocument } from './receive-document.js';
import type { MakerSettings, Settings } from './settings.js';

const kinds: Record<string, Receipt['kind']> = {
  orders: 'order',
  returns: 'return',
  changes: 'change',
  cancellations: 'cancellation',
  inquiries: 'inquiry',
};

const LARGEST_BODY = 1_000_000;

async function readBody(request: IncomingMessage): Promise<Buffer> {
  const type = request.headers['content-type'] ?? '';
  if (!/^application\/json\s*(;|$)/i.test(type)) {
    throw new Problem(415, 'media-type', 'JSON is expected', 'Send Content-Type: application/json.');
  }
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    size += (chunk as Buffer).length;
    if (size > LARGEST_BODY)
      throw new Problem(413, 'too-large', 'The body is too large', 'Send at most 1 MB.');
    chunks.push(chunk as Buffer);
  }
  return Buffer.concat(chunks);
}

function asJson(body: Buffer): unknown {
  try {
    return JSON.parse(body.toString('utf8'));
  } catch {
    throw new Problem(400, 'not-json', 'The body is not JSON', 'Send JSON.');
  }
}

function send(response: ServerResponse, status: number, body: unknown, type = 'application/json'): void {
  const text = JSON.stringify(body);
  response.writeHead(status, { 'content-type': type, 'content-length': Buffer.byteLength(text) }).end(text);
}

function listing(book: Book, maker: string, desk: string) {
  const receipts = book.receipts(maker, kinds[desk] ?? 'order').map((receipt) => ({
    number: receipt.number,
    idempotencyKey: receipt.idempotencyKey,
    reference: receipt.reference,
    receivedAt: receipt.receivedAt,
    document: receipt.document,
    messages: receipt.messages.map(({ dueAt, message }, index) => ({
      type: message.type,
      dueAt,
      outcome: book.outcome(receipt, index) ?? null,
    })),
  }));
  return { count: receipts.length, [desk]: receipts };
}

/** The makers' HTTP desk. */
export function createDesk(book: Book, courier: Courier, settings: Settings, log: Log): Server {
  const makers = new Map<string, { maker: MakerSettings; faults: Faults }>(
    settings.makers.map((maker) => [maker.code, { maker, faults: new Faults() }]),
  );

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const path = (request.url ?? '/').replace(/[?#].*$/s, '');
    if (path === '/health' && request.method === 'GET') return send(response, 200, { status: 'ok' });
    const [, code, desk] =
      /^\/makers\/([^/]+)\/(orders|returns|changes|cancellations|inquiries|faults)$/.exec(path) ?? [];
    const known = code === undefined ? undefined : makers.get(code);
    if (!known || !desk)
      throw new Problem(404, 'not-found', 'Nothing here', `${path} is no address of this simulator.`);
    const { maker, faults } = known;
    const kind = kinds[desk] ?? 'order';
    if (request.method === 'GET' && desk !== 'faults')
      return send(response, 200, listing(book, maker.code, desk));
    if (request.method !== 'POST') throw new Problem(405, 'method', 'Not this way', `${path} takes POST.`);
    const body = await readBody(request);
    if (desk === 'faults') {
      faults.order(asJson(body));
      return send(response, 200, { ordered: true });
    }
    faults.strike('before');
    const place = {
      book,
      maker,
      secondsPerDay: settings.secondsPerDay,
      takeMishaps: () => faults.takeMishaps(),
    };
    const receipt = await receiveDocument(place, kind, request.headers, body);
    courier.wake();
    faults.strike('after');
    send(response, 202, receipt);
  }

  return createServer((request, response) => {
    answer(request, response).catch((error: unknown) => {
      const problem =
        error instanceof Problem
          ? error
          : new Problem(
              500,
              'unexpected',
              'Something broke',
              'The simulator met an unexpected fault; see its log.',
            );
      if (problem !== error) log(`unexpected: ${String(error)}`);
      // What was not read of a refused body must not hang the connection.
      if (!request.complete) response.setHeader('connection', 'close');
      send(response, problem.status, problem, 'application/problem+json');
    });
  });
}
