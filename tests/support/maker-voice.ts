import { randomUUID } from 'node:crypto';
import { Webhook } from 'standardwebhooks';
import { makerSecretPurpose } from '../../apps/api/dist/makers/makers.store.js';
import { SealedBox } from '../../apps/api/dist/platform/sealed-box.js';
import type { Ask, Told } from './ask.js';
import type { House } from './house.js';
import type { Superuser } from './superuser.js';

/** A maker's side of the line: says a message, signed with its own secret or, for a test, with another. */
export async function makerVoice(house: House, root: Superuser, ask: Ask, code: string) {
  const [maker] = await root.rows(`select id, secret_sealed from maker where code = $1`, [code]);
  const box = new SealedBox(house.settings.IDENTITY_KEY);
  const secret = box.open(maker!['secret_sealed'], makerSecretPurpose(maker!['id']));
  return async (
    message: object | string,
    { id = `msg_${randomUUID()}`, signedWith = secret, at = new Date(), as = code } = {},
  ): Promise<Told> => {
    const raw = typeof message === 'string' ? message : JSON.stringify(message);
    return ask('POST', `/api/maker-messages/${as}`, {
      raw,
      headers: {
        'webhook-id': id,
        'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
        'webhook-signature': new Webhook(signedWith).sign(id, at, raw),
      },
    });
  };
}

export type MakerVoice = Awaited<ReturnType<typeof makerVoice>>;
