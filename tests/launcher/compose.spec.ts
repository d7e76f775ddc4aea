import { existsSync, readFileSync } from 'node:fs';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';

type Service = {
  image: string;
  command?: string[];
  environment?: Record<string, string>;
  depends_on?: Record<string, { condition: string }>;
  networks?: string[];
  volumes?: string[];
  healthcheck?: { test: string[] };
};
type Compose = { services: Record<string, Service>; networks: object; volumes: object };

const text = readFileSync('docker-compose.yml', 'utf8');
const compose = parse(text, { merge: true }) as Compose;
const services = Object.entries(compose.services);
const inOurImage = services.filter(([, service]) => service.image === 'lensferry');

/** The schema names its draft by an https address, which no validator knows; the draft is 7. */
function publishedSchema(): object {
  const { $schema: _draft7, ...schema } = JSON.parse(
    readFileSync('tests/support/compose-spec.json', 'utf8'),
  ) as Record<string, unknown>;
  return schema;
}

const validate = new Ajv({ strict: false, formats: { duration: true } }).compile(publishedSchema());

describe('docker-compose.yml', () => {
  it('is a Compose file by the published schema', () => {
    validate(compose);
    expect(validate.errors).toBeNull();
  });

  it('would be refused with a key or a value that the schema does not know', () => {
    expect(validate({ services: { api: { image: 'x', helthcheck: {} } } })).toBe(false);
    expect(
      validate({ services: { api: { image: 'x', depends_on: { db: { condition: 'healthy' } } } } }),
    ).toBe(false);
  });

  it('has PostgreSQL, Redis, migration, API and worker', () => {
    expect(Object.keys(compose.services)).toEqual(['postgres', 'redis', 'migrate', 'api', 'worker']);
  });

  it.each(services)(
    '%s waits only for services that are there, and for a health that is checked',
    (_name, service) => {
      for (const [other, { condition }] of Object.entries(service.depends_on ?? {})) {
        expect(compose.services).toHaveProperty(other);
        if (condition === 'service_healthy')
          expect(compose.services[other]).toHaveProperty('healthcheck.test');
      }
    },
  );

  it.each(services)(
    '%s uses networks and volumes that are declared, and files that are there',
    (_name, service) => {
      for (const network of service.networks ?? []) expect(compose.networks).toHaveProperty(network);
      for (const volume of service.volumes ?? []) {
        const source = volume.split(':')[0] ?? '';
        if (source.startsWith('.')) expect(existsSync(source), source).toBe(true);
        else expect(compose.volumes).toHaveProperty(source);
      }
    },
  );

  it.each(inOurImage)('%s runs an entry that is built', (_name, service) => {
    const script = service.command?.find((word) => word.endsWith('.js')) ?? '';
    expect(existsSync(script.replace('/dist/', '/src/').replace(/\.js$/, '.ts')), script).toBe(true);
  });

  it('publishes no secret: each comes from outside and has no default', () => {
    const secrets = [...text.matchAll(/\$\{([A-Z_]*(?:PASSWORD|KEY|SECRET)[A-Z_]*)(.*?)\}/g)];
    expect(new Set(secrets.map((match) => match[1]))).toEqual(
      new Set(['POSTGRES_PASSWORD', 'LENSFERRY_DATABASE_PASSWORD', 'REDIS_PASSWORD', 'IDENTITY_KEY']),
    );
    for (const [, name, rule] of secrets) expect(rule, name).toMatch(/^:\?/);
  });

  it('keeps database and queue off every other network', () => {
    for (const name of ['postgres', 'redis']) {
      expect(compose.services[name]?.networks).toEqual(['inside']);
      expect(compose.services[name]).not.toHaveProperty('ports');
    }
    expect(compose.networks).toHaveProperty('inside.internal', true);
  });
});

describe('the Dockerfile', () => {
  const dockerfile = readFileSync('apps/api/Dockerfile', 'utf8');

  it('copies folders that are there before or after the build', () => {
    const built = new Set(['node_modules', 'apps/admin/dist']);
    const copied = [...dockerfile.matchAll(/^COPY --from=build (.+) \S+$/gm)].flatMap((match) =>
      (match[1] ?? '').split(' '),
    );
    expect(copied.length).toBeGreaterThan(4);
    for (const path of copied.map((one) => one.replace('/srv/lensferry/', ''))) {
      expect(built.has(path) || existsSync(path), path).toBe(true);
    }
  });

  it('has the pages where docker-compose.yml tells the API to look for them', () => {
    const workdir = /^WORKDIR (\S+)$/m.exec(dockerfile)?.[1];
    const pages = compose.services['api']?.environment?.['ADMIN_DIR'];
    expect(pages).toBe(`${workdir}/apps/admin/dist`);
  });

  it('does not run as root', () => {
    expect(dockerfile).toMatch(/^USER node$/m);
  });
});
