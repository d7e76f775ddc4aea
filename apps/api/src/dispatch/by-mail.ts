import { createHash } from 'node:crypto';
import { createTransport } from 'nodemailer';
import MailComposer from 'nodemailer/lib/mail-composer';
import type { Settings } from '../config.js';
import type { Address, Attempt, Channel, Parcel } from './channel.js';
import { makerPaper } from './maker-paper.js';

const answerWithinMs = 15_000;
type Mailed = Parcel & { to: Extract<Address, { channel: 'email' }> };

const subjects = {
  order: 'Lens order',
  change: 'Change of lens order',
  cancellation: 'Please cancel lens order',
  inquiry: 'When will these lenses come? Question',
  return: 'Return of a lens, order',
};

/** Sends documents as mails with the sheet as PDF and the document as JSON. Without a mail server each attempt fails. */
export function byMail({
  SMTP_URL: url,
  MAIL_FROM: from,
}: Pick<Settings, 'SMTP_URL' | 'MAIL_FROM'>): Channel<Mailed['to']> {
  if (url === undefined || from === undefined)
    return { hand: () => Promise.resolve(lost('No mail server is set up: set SMTP_URL and MAIL_FROM.')) };
  const transport = createTransport({
    url,
    connectionTimeout: answerWithinMs,
    greetingTimeout: answerWithinMs,
    socketTimeout: answerWithinMs,
  });
  return {
    async hand(parcel) {
      if (parcel.to.address === '') return lost('This maker has no e-mail address for orders: enter one.');
      const raw = await writeMail(parcel, from);
      try {
        const { response } = await transport.sendMail({ envelope: { from, to: parcel.to.address }, raw });
        const status = Number(response.slice(0, 3));
        return { sent: true, final: true, status, outcome: 'The maker’s mail server has it.' };
      } catch (error) {
        return judge(error as { responseCode?: number; code?: string; response?: string });
      }
    },
  };
}

const lost = (outcome: string): Attempt => ({ sent: false, final: true, status: null, outcome });

/** 4xx and no answer at all are worth another try; 5xx is the server's last word. */
function judge({
  responseCode,
  code,
  response,
}: {
  responseCode?: number;
  code?: string;
  response?: string;
}): Attempt {
  if (responseCode === undefined)
    return {
      sent: false,
      final: false,
      status: null,
      outcome: `The mail server could not be reached (${code ?? 'unknown'}).`,
    };
  const words = (response ?? '')
    .replace(/^\d{3}[ -]?/, '')
    .replace(/\.$/, '')
    .slice(0, 300);
  return {
    sent: false,
    final: responseCode >= 500,
    status: responseCode,
    outcome: `The mail server answered ${responseCode}${words === '' ? '' : `: ${words}`}.`,
  };
}

/**
 * The mail, byte for byte the same at every attempt: its date is that of the document, and its Message-ID and
 * boundaries follow from the key, by which the receiver can tell a repetition.
 */
export async function writeMail(parcel: Mailed, from: string): Promise<Buffer> {
  const digest = createHash('sha256').update(parcel.key).digest('hex').slice(0, 24);
  const name = parcel.key.toLowerCase();
  return new MailComposer({
    from,
    to: parcel.to.address,
    subject: `${subjects[parcel.kind]} ${parcel.number}`,
    date: parcel.writtenAt,
    messageId: `<${name}.${digest}@${from.split('@')[1] ?? 'localhost'}>`,
    headers: { 'X-Idempotency-Key': parcel.key },
    text: `${subjects[parcel.kind]} ${parcel.number}\n\nThe sheet is attached as PDF, and the same as JSON for your systems. Please answer to this address, quoting the number.\nNo patient is named; quote the case code.\n`,
    attachments: [
      {
        filename: `${name}.pdf`,
        content: await makerPaper(parcel.document, parcel.writtenAt),
        contentType: 'application/pdf',
      },
      {
        filename: `${name}.json`,
        content: JSON.stringify(parcel.document),
        contentType: 'application/json',
      },
    ],
    baseBoundary: digest,
  } as ConstructorParameters<typeof MailComposer>[0])
    .compile()
    .build();
}
