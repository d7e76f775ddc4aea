import { SMTPServer } from 'smtp-server';

/** A mail as it came over the wire. */
export interface Mail {
  readonly to: string;
  readonly raw: Buffer;
}

/** A mail server on this machine that keeps what it takes, and refuses as it is told. */
export interface MailHouse {
  readonly url: string;
  readonly mails: Mail[];
  /** Every message that was brought, also the refused ones. */
  readonly brought: Buffer[];
  /** Answers for the next messages, oldest first; none means that it is taken. */
  readonly answers: (number | null)[];
  close(): Promise<void>;
}

export async function openMailHouse(port = 0): Promise<MailHouse> {
  const mails: Mail[] = [];
  const brought: Buffer[] = [];
  const answers: (number | null)[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData(stream, session, done) {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        const raw = Buffer.concat(chunks);
        brought.push(raw);
        const answer = answers.shift() ?? null;
        if (answer !== null)
          return done(Object.assign(new Error('The desk is closed'), { responseCode: answer }));
        mails.push({ to: session.envelope.rcptTo.map(({ address }) => address).join(), raw });
        done();
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(port, '127.0.0.1', () => resolve()));
  const { port: at } = server.server.address() as { port: number };
  return {
    url: `smtp://127.0.0.1:${at}`,
    mails,
    brought,
    answers,
    close: () => new Promise((resolve) => void server.close(() => resolve())),
  };
}

/** The parts of a mail by their file name, decoded. */
export function attachmentsOf(raw: Buffer): Map<string, Buffer> {
  const text = raw.toString('latin1');
  const boundary = /boundary="([^"]+)"/.exec(text)?.[1] ?? '';
  const parts = text.split(`--${boundary}`).slice(1, -1);
  return new Map(
    parts.flatMap((part) => {
      const [head = '', ...body] = part.split('\r\n\r\n');
      const name = /filename="?([^"\r\n;]+)"?/.exec(head)?.[1];
      if (name === undefined) return [];
      const content = body.join('\r\n\r\n');
      return [[name, /base64/i.test(head) ? Buffer.from(content, 'base64') : Buffer.from(content, 'latin1')]];
    }),
  );
}
