import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto';

const algorithm = 'aes-256-gcm';

/** Seals small texts with AES-256-GCM; what is sealed for one purpose does not open for another. */
export class SealedBox {
  private readonly key: Buffer;

  constructor(keyInBase64: string) {
    this.key = Buffer.from(keyInBase64, 'base64');
  }

  seal(text: string, purpose: string): string {
    const nonce = randomBytes(12);
    const cipher = createCipheriv(algorithm, this.key, nonce).setAAD(Buffer.from(purpose));
    const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
    return [
      'v1',
      nonce.toString('base64'),
      cipher.getAuthTag().toString('base64'),
      body.toString('base64'),
    ].join('.');
  }

  /** @throws Error when the text was sealed with another key, for another purpose, or was changed. */
  open(sealed: string, purpose: string): string {
    const [version, nonce, tag, body] = sealed.split('.');
    if (version !== 'v1' || !nonce || !tag || body === undefined)
      throw new Error('This is not a sealed text.');
    const decipher = createDecipheriv(algorithm, this.key, Buffer.from(nonce, 'base64'))
      .setAAD(Buffer.from(purpose))
      .setAuthTag(Buffer.from(tag, 'base64'));
    return Buffer.concat([decipher.update(Buffer.from(body, 'base64')), decipher.final()]).toString('utf8');
  }
}
