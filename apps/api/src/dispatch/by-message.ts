import { v7 as uuid } from 'uuid';
import { Webhook } from 'standardwebhooks';
import type { Address, Attempt, Channel, Parcel } from './channel.js';

const answerWithinMs = 10_000;

/** Posts a document, signed by the Standard Webhooks scheme, with its key as the idempotency key. */
export const byMessage: Channel<Extract<Address, { channel: 'https' }>> = { hand: post };

async function post({
  to,
  document,
  key,
}: Parcel & { to: { url: string; secret: string } }): Promise<Attempt> {
  const id = `msg_${uuid()}`;
  const at = new Date();
  const body = JSON.stringify(document);
  const signature = new Webhook(to.secret).sign(id, at, body);
  try {
    const response = await fetch(to.url, {
      method: 'POST',
      body,
      signal: AbortSignal.timeout(answerWithinMs),
      redirect: 'error',
      headers: {
        'content-type': 'application/json',
        'idempotency-key': key,
        'webhook-id': id,
        'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
        'webhook-signature': signature,
      },
    });
    const text = (await response.text()).slice(0, 2000);
    return judge(response.status, text);
  } catch (error) {
    const cause = (error as { cause?: { code?: string } }).cause?.code ?? (error as Error).name;
    return { sent: false, final: false, status: null, outcome: `The maker could not be reached (${cause}).` };
  }
}

function judge(status: number, text: string): Attempt {
  if (status >= 200 && status < 300) return { sent: true, final: true, status, outcome: 'The maker has it.' };
  const again = status >= 500 || [408, 409, 425, 429].includes(status);
  const why = detailOf(text);
  return {
    sent: false,
    final: !again,
    status,
    outcome: `The maker answered ${status}${why === '' ? '' : `: ${why}`}.`,
  };
}

function detailOf(text: string): string {
  try {
    const { detail } = JSON.parse(text) as { detail?: unknown };
    return typeof detail === 'string' ? detail.replace(/\.$/, '').slice(0, 300) : '';
  } catch {
    return '';
  }
}
