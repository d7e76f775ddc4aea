import { createCipheriv, createDecipheriv, createHash, randomBytes } from 'node:crypto';

const algorithm = 'aes-256-gcm';

/** A key with the name by which sealed texts say what sealed them; the name tells nothing of the key. */
interface NamedKey {
  readonly id: string;
  readonly key: Buffer;
}

function named(keyInBase64: string): NamedKey {
  const key = Buffer.from(keyInBase64, 'base64');
  const id = createHash('sha256').update('lensferry key id').update(key).digest('hex').slice(0, 12);
  return { id, key };
}

/**
 * Seals small texts with AES-256-GCM; what is sealed for one purpose does not open for another. It seals with the
 * present key and opens with the present and the previous one, so that keys can be changed while the product runs.
 */
export class SealedBox {
  private readonly present: NamedKey;
  private readonly keys: readonly NamedKey[];

  constructor(keyInBase64: string, previousKeyInBase64?: string) {
    this.present = named(keyInBase64);
    this.keys = [this.present, ...(previousKeyInBase64 === undefined ? [] : [named(previousKeyInBase64)])];
  }

  /** The name of the key that seals. */
  get keyId(): string {
    return this.present.id;
  }

  /** What everything that the present key has sealed begins with. */
  get mark(): string {
    return `v2.${this.present.id}.`;
  }

  seal(text: string, purpose: string): string {
    const nonce = randomBytes(12);
    const cipher = createCipheriv(algorithm, this.present.key, nonce).setAAD(Buffer.from(purpose));
    const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
    return this.mark + [nonce, cipher.getAuthTag(), body].map((part) => part.toString('base64')).join('.');
  }

  /** @throws Error when the text was sealed with another key, for another purpose, or was changed. */
  open(sealed: string, purpose: string): string {
    const [version, ...parts] = sealed.split('.');
    const keyId = version === 'v2' ? parts.shift() : undefined;
    const [nonce, tag, body] = parts;
    if ((version !== 'v1' && version !== 'v2') || !nonce || !tag || body === undefined)
      throw new Error('This is not a sealed text.');
    // The first form did not say which key sealed it.
    const keys = this.keys.filter(({ id }) => version === 'v1' || id === keyId);
    for (const { key } of keys) {
      const decipher = createDecipheriv(algorithm, key, Buffer.from(nonce, 'base64'), { authTagLength: 16 })
        .setAAD(Buffer.from(purpose))
        .setAuthTag(Buffer.from(tag, 'base64'));
      try {
        return Buffer.concat([decipher.update(Buffer.from(body, 'base64')), decipher.final()]).toString(
          'utf8',
        );
      } catch {
        // Sealed with the other key, or changed.
      }
    }
    throw new Error('This was sealed with a key that is not set here, for another purpose, or was changed.');
  }
}
