import { randomBytes } from 'node:crypto';
import { isIP } from 'node:net';
import { z } from 'zod';
import { isBreachList } from './people/breached-passwords.js';

const flag = z
  .enum(['0', '1'])
  .default('0')
  .transform((value) => value === '1');

const identityKey = z
  .string()
  .refine((key) => Buffer.from(key, 'base64').length === 32, 'is 32 random bytes written in base64');

/** An address, or a network as an address and its number of bits. */
function isNetwork(text: string): boolean {
  const [address = '', bits, ...more] = text.split('/');
  const most = isIP(address) === 4 ? 32 : isIP(address) === 6 ? 128 : -1;
  if (most < 0 || more.length > 0) return false;
  return bits === undefined || (/^\d{1,3}$/.test(bits) && Number(bits) <= most);
}

/** Every setting that the API and the worker read, from the environment. README lists them. */
const Plain = z.object({
  PORT: z.coerce.number().int().min(1).max(65535).default(4180),
  HOST: z.string().default('127.0.0.1'),
  DATABASE_URL: z.string().regex(/^postgres(ql)?:\/\//, 'is a postgresql:// address'),
  REDIS_URL: z
    .string()
    .regex(/^rediss?:\/\//, 'is a redis:// address')
    .optional(),
  /** 32 random bytes, base64: seals patients' identities and makers' secrets. */
  IDENTITY_KEY: identityKey,
  /** The key before this one, while what it sealed is being sealed anew; opens and never seals. */
  IDENTITY_KEY_PREVIOUS: identityKey.optional(),
  ADMIN_DIR: z.string().optional(),
  EMBEDDED_WORKER: flag,
  LENSFERRY_DEMO: flag,
  /** Where the demo's maker simulator listens. */
  SIMULATOR_URL: z.url().optional(),
  /** Set when people reach the server over https, so that the session cookie is sent over https only. */
  SECURE_COOKIES: flag,
  /** Surgeons and administrators have to set up a second factor before anything else; set it in production. */
  REQUIRE_SECOND_FACTOR: flag,
  /** The mail server that takes orders for makers reached by e-mail; none, and such orders fail with a reason. */
  SMTP_URL: z
    .string()
    .regex(/^smtps?:\/\//, 'is an smtp:// or smtps:// address')
    .optional(),
  /** Whom those mails come from. */
  MAIL_FROM: z.email('is an e-mail address').optional(),
  /** Opens GET /metrics to whoever sends it as a bearer token; none, and there is no such address. */
  METRICS_TOKEN: z.string().min(20, 'is at least 20 characters long').optional(),
  /** A file of breached passwords' SHA-1 hashes, sorted, that new passwords are held against; none, and they are not. */
  BREACHED_PASSWORDS: z
    .string()
    .refine(
      isBreachList,
      'is a file that can be read, a line for each password: its SHA-1 in capitals, sorted',
    )
    .optional(),
  /** What one address may ask in a minute, before it is told to wait. */
  REQUESTS_PER_MINUTE: z.coerce.number().int().min(60).default(3000),
  /** Proxies that are believed when they say in X-Forwarded-For who asks: addresses and networks, with commas. */
  TRUSTED_PROXIES: z
    .string()
    .default('')
    .transform((text) => text.split(',').flatMap((part) => part.trim() || []))
    .refine((all) => all.every(isNetwork), 'is addresses or networks (10.0.0.0/8) with commas between them'),
  DATABASE_POOL: z.coerce.number().int().min(2).max(100).default(10),
  SEND_ATTEMPTS: z.coerce.number().int().min(1).max(20).default(6),
  /** First pause between attempts to reach a maker; each further one is twice as long. */
  SEND_BACKOFF_MS: z.coerce.number().int().min(10).max(600_000).default(2000),
  /** An order that is queued for so long without being sent or failed is queued again. */
  SWEEP_AFTER_MS: z.coerce.number().int().min(500).max(3_600_000).default(120_000),
});
const Settings = Plain.refine(
  ({ SMTP_URL, MAIL_FROM }) => (SMTP_URL === undefined) === (MAIL_FROM === undefined),
  {
    path: ['MAIL_FROM'],
    message: 'and SMTP_URL go together: set both or neither',
  },
);
export type Settings = z.infer<typeof Settings>;

/** Reads the settings; prints every bad one together and stops. */
export function readSettings(environment: NodeJS.ProcessEnv = process.env): Settings {
  const result = Settings.safeParse(environment);
  if (result.success) return result.data;
  const lines = result.error.issues.map((issue) =>
    issue.code === 'invalid_type'
      ? `  ${issue.path.join('.')} is missing`
      : `  ${issue.path.join('.')} ${issue.message}`,
  );
  console.error(`Lensferry can't start with these settings:\n${lines.join('\n')}`);
  process.exit(1);
}

/** A key for tests and for the demo's first start. */
export function newKey(): string {
  return randomBytes(32).toString('base64');
}
