import { z } from 'zod';

const MakerSettings = z
  .strictObject({
    code: z.string().regex(/^[A-Za-z0-9][A-Za-z0-9-]{0,31}$/, 'letters, digits and hyphens'),
    secret: z.string().regex(/^whsec_[A-Za-z0-9+/]{16,}={0,2}$/, 'whsec_ and a Base64 key'),
    workingDays: z
      .strictObject({ min: z.int().min(1).max(250), max: z.int().min(1).max(250) })
      .refine((days) => days.min <= days.max, 'min must not exceed max'),
    declineShare: z.number().min(0).max(1),
    highCylinderFromD: z.number().min(0).max(20),
    gtinPrefix: z
      .string()
      .regex(/^\d{6,11}$/, '6 to 11 digits, or null')
      .nullable(),
    labelScheme: z.enum(['gs1', 'hibc', 'serial']),
    returnDays: z.int().min(0).max(730),
    creditShare: z.number().min(0).max(1),
    listPrice: z.number().positive().max(100_000).default(1200),
    currency: z
      .string()
      .regex(/^[A-Z]{3}$/, 'three capital letters')
      .default('EUR'),
  })
  .refine((maker) => maker.labelScheme !== 'gs1' || maker.gtinPrefix !== null, {
    path: ['gtinPrefix'],
    message: 'a maker with GS1 labels needs a prefix',
  });

/** One maker that this process plays. `creditShare` is the part of the list price that a timely return brings. */
export type MakerSettings = z.infer<typeof MakerSettings>;

const makersText = z
  .string()
  .transform((text, context): unknown => {
    try {
      return JSON.parse(text);
    } catch {
      context.addIssue({ code: 'custom', message: 'is not valid JSON' });
      return z.NEVER;
    }
  })
  .pipe(
    z
      .array(MakerSettings)
      .min(1, 'name at least one maker')
      .refine(
        (makers) => new Set(makers.map((maker) => maker.code)).size === makers.length,
        'two makers share a code',
      ),
  );

const Environment = z.object({
  SIMULATOR_PORT: z.coerce.number('a port from 0 to 65535').int().min(0).max(65_535),
  SIMULATOR_HOST: z.string().min(1).default('127.0.0.1'),
  SIMULATOR_DATA_DIR: z.string().min(1, 'a folder'),
  SIMULATOR_SECONDS_PER_DAY: z.coerce.number('a number above 0').positive().max(86_400).default(2),
  LENSFERRY_URL: z.url({ protocol: /^https?$/ }),
  SIMULATOR_MAKERS: makersText,
});

/** What the process was told to do. */
export interface Settings {
  readonly port: number;
  readonly host: string;
  readonly dataDir: string;
  readonly secondsPerDay: number;
  readonly lensferryUrl: string;
  readonly makers: readonly MakerSettings[];
}

/** Every bad setting in one message. */
export class SettingsError extends Error {
  override readonly name = 'SettingsError';
}

/** Reads the settings from the environment, or throws one SettingsError that lists every fault. */
export function readSettings(environment: Record<string, string | undefined>): Settings {
  const parsed = Environment.safeParse(environment);
  if (!parsed.success) {
    const lines = parsed.error.issues.map((issue) => `  ${issue.path.join('.')}: ${issue.message}`);
    throw new SettingsError(['The maker simulator cannot start. Mend these settings:', ...lines].join('\n'));
  }
  const env = parsed.data;
  return {
    port: env.SIMULATOR_PORT,
    host: env.SIMULATOR_HOST,
    dataDir: env.SIMULATOR_DATA_DIR,
    secondsPerDay: env.SIMULATOR_SECONDS_PER_DAY,
    lensferryUrl: env.LENSFERRY_URL.replace(/\/+$/, ''),
    makers: env.SIMULATOR_MAKERS,
  };
}
