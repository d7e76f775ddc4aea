import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeAsk, type Ask, type Method, type Told } from '../support/ask.js';
import { day } from '../support/eye.js';
import { goodCalls, type GoodCall } from '../support/good-bodies.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { makerVoice, type MakerVoice } from '../support/maker-voice.js';
import { readOpenApi, type ApiDocument } from '../support/open-api.js';
import { orderOf, sceneAt } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const fuzzed = Number(process.env['FUZZ'] ?? (process.env['FULL'] ? 50_000 : 1500));
/** Thousands of requests take their time while other suites share the machine. */
const timeout = 180_000;
const seed = Number(process.env['SEED'] ?? 20_261_125);
type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

describe('bad input', () => {
  let house: House;
  let root: Superuser;
  let ask: Ask;
  let api: ApiDocument;
  let say: MakerVoice;
  let una: Person;
  let caseId = '';
  let good: Record<string, GoodCall>;
  const tally = { asked: 0, refused: 0, taken: 0 };

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    ask = makeAsk(house);
    api = await readOpenApi(house);
    say = await makerVoice(house, root, ask, 'QUILLON');
    const [coordinator, ilse, oona, ada] = await Promise.all(
      ['una', 'ilse', 'oona', 'ada'].map((name) => house.signIn(name)),
    );
    una = coordinator!;
    const draft = await sceneAt(house, 'draft');
    const sent = await sceneAt(house, 'sent');
    const here = await sceneAt(house, 'quarantined');
    const back = await sceneAt(house, 'rejected');
    const [sentBack] = await root.rows('select id from lens_return where lens_id = $1', [back.lensId]);
    const returnId = sentBack!['id'];
    ({ caseId } = draft);
    const chamber = await root.rows(`select id from measurement where case_id = $1 and kind = 'chamber'`, [
      caseId,
    ]);
    const design = await root.rows(`select v.id from design_version v limit 1`);
    good = goodCalls({
      una,
      ilse: ilse!,
      oona: oona!,
      ada: ada!,
      makerId: (await orderOf(sent)).makerId,
      clinicId: draft.clinic.id,
      surgeonId: draft.clinic.staff.surgeon.personId!,
      caseId,
      measurementId: chamber[0]!['id'],
      orderId: draft.orderId,
      orderNumber: (await orderOf(sent)).number,
      lensId: here.lensId,
      returnId,
      parcelId: await keptParcel(),
      transferId: await offeredLens(),
      countId: await openCount(),
      designVersionId: design[0]!['id'],
    });
  });
  const openCount = async (): Promise<string> => {
    const oona = await house.signIn('oona');
    const clinicId = house.network.clinics.find(({ code }) => code === 'EST')!.id;
    return (await oona.post<{ id: string }>('/api/stock-counts', { clinicId, location: 'shelf 7' })).body.id;
  };
  const offeredLens = async (): Promise<string> => {
    const oona = await house.signIn('oona');
    const { lensId } = await sceneAt(house, 'accepted');
    const why = 'Not needed.';
    await oona.post(`/api/lenses/${lensId}/unreserve`, { version: 2, why });
    return (await oona.post<{ id: string }>(`/api/lenses/${lensId}/offer`, { version: 3, why })).body.id;
  };
  const keptParcel = async (): Promise<string> => {
    const oona = await house.signIn('oona');
    const clinicId = house.network.clinics.find(({ code }) => code === 'EST')!.id;
    const { body } = await oona.post<{ id: string }>('/api/parcels', {
      ...{ clinicId, label: { text: '', serial: 'STRAY 1' }, location: 'apart', note: 'Came by itself.' },
    });
    return body.id;
  };
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  /** Sends a body to an operation as the person whose it is; a maker's is signed, so that its form is what is judged. */
  const send = (operation: string, raw: string, headers: Record<string, string> = {}): Promise<Told> => {
    const { as: who, params } = good[operation]!;
    tally.asked += 1;
    if (operation.includes('maker-messages')) return say(raw);
    const [method, path = ''] = operation.split(' ');
    const url = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => params[name]!);
    return ask(method as Method, url, { as: who, raw, headers });
  };

  /** Every refusal is a problem that the document describes; nothing ever answers 5xx. */
  const isProblem = (operation: string, told: Told, sent: string): void => {
    expect(told.status, `${operation} ${sent.slice(0, 300)} ${told.text}`).toBeLessThan(500);
    expect(told.type, sent.slice(0, 300)).toMatch(/^application\/problem\+json/);
    expect(told.json).toMatchObject({
      type: expect.stringMatching(/^urn:lensferry:problem:/),
      title: expect.stringMatching(/./),
      status: told.status,
      detail: expect.stringMatching(/./),
    });
    expect(api.faultsOf(operation, told)).toEqual([]);
    tally.refused += 1;
  };
  const pointersOf = (told: Told): string[] =>
    (told.json?.errors ?? []).map(({ pointer }: { pointer: string }) => pointer);

  /** Refused with a status, naming a field where one is given, and nothing written. */
  const refused = async (
    operation: string,
    sent: unknown,
    status = 400,
    pointer?: string,
    headers?: Record<string, string>,
  ): Promise<void> => {
    const raw = typeof sent === 'string' ? sent : JSON.stringify(sent);
    const told = await send(operation, raw, headers);
    isProblem(operation, told, raw);
    expect(told.status, `${operation} ${raw.slice(0, 300)} ${told.text}`).toBe(status);
    if (pointer !== undefined)
      expect(pointersOf(told), `${operation} ${raw.slice(0, 300)}`).toContain(pointer);
  };
  /** Does what is refused a few at a time, and sees that no table has gained or lost a row by it. */
  const nothingWritten = async (attempts: (() => Promise<void>)[]): Promise<void> => {
    for (let from = 0; from < attempts.length; from += 12) {
      const before = await rowCounts();
      await Promise.all(attempts.slice(from, from + 12).map((attempt) => attempt()));
      expect(await rowCounts()).toEqual(before);
    }
  };
  /** Failed sign-ins are counted on purpose; everything else stays as it was. */
  const rowCounts = async () => ({ ...(await root.counts()), sign_in_attempt: 0 });

  const schemaOf = (operation: string): string => {
    const [method = '', path = ''] = operation.split(' ');
    const { requestBody } = api.document.paths[path]![method.toLowerCase()]!;
    return requestBody!.content['application/json']!.schema.$ref!;
  };
  const fits = (operation: string, body: unknown): boolean =>
    api.ajv.validate({ $ref: `https://lensferry.example/openapi${schemaOf(operation)}` }, body) as boolean;

  it('is tried on every operation that takes a body', () => {
    const withBody = Object.entries(api.document.paths).flatMap(([path, methods]) =>
      Object.entries(methods)
        .filter(([, { requestBody }]) => requestBody !== undefined)
        .map(([method]) => `${method.toUpperCase()} ${path}`),
    );
    expect(Object.keys(good).sort()).toEqual(withBody.sort());
    for (const [operation, { body }] of Object.entries(good))
      expect(fits(operation, body), operation).toBe(true);
  });

  it('is refused as a whole: broken, too large, of another kind, or no object', { timeout }, async () => {
    await nothingWritten(
      Object.entries(good).flatMap(([operation, { body }]) => {
        const text = JSON.stringify(body);
        const wholes = ['[]', `[${text}]`, '"text"', '12', 'null', '{}'].filter(
          (whole) => !fits(operation, JSON.parse(whole)),
        );
        const broken = [
          text.slice(0, -1),
          '{"version": NaN}',
          '{"version": -Infinity}',
          `{"__proto__": {"admin": true}, ${text.slice(1)}`,
          `{"constructor": {"prototype": {"admin": true}}, ${text.slice(1)}`,
        ];
        const typed = (type: string) => ({ 'content-type': type });
        return [
          () => refused(operation, `${text}${' '.repeat(1_048_577)}`, 413),
          ...[...wholes, ...broken].map((raw) => () => refused(operation, raw)),
          ...(operation.includes('maker-messages')
            ? []
            : [
                () => refused(operation, text, 415, undefined, typed('application/xml')),
                () => refused(operation, text, 400, undefined, typed('text/plain')),
                () => refused(operation, ''),
              ]),
        ];
      }),
    );
  });

  it('is refused field by field, each named', { timeout }, async () => {
    const strange: Json[] = [null, true, -1, 0.5, 1e15, '', 'x'.repeat(5000), '-', ['a'], { a: 1 }];
    const attempts: (() => Promise<void>)[] = [];
    for (const [operation, { body }] of Object.entries(good)) {
      attempts.push(() => refused(operation, { ...body, surprise: 1 }, 400, '/surprise'));
      for (const place of placesIn(body)) {
        for (const value of strange) {
          const changed = replaced(body, place, value);
          if (!fits(operation, changed)) attempts.push(() => namedAs(operation, place, changed));
        }
        const missing = without(body, place);
        if (!fits(operation, missing)) attempts.push(() => refused(operation, missing));
      }
    }
    await nothingWritten(attempts);
  });

  /** What tells kinds apart is named itself, or else what stands beside it, which is judged by another kind. */
  const tellsKinds = ['/kind', '/type', '/measurement/kind'];
  const namedAs = async (operation: string, place: string[], changed: unknown): Promise<void> => {
    const raw = JSON.stringify(changed);
    const pointer = `/${place.join('/')}`;
    const told = await send(operation, raw);
    isProblem(operation, told, raw);
    expect(told.status, `${operation} ${pointer} ${told.text}`).toBe(400);
    const named = pointersOf(told);
    const right = named.filter((each) => each === pointer || each.startsWith(`${pointer}/`));
    expect(
      tellsKinds.includes(pointer) ? named : right,
      `${operation} ${pointer} ${raw.slice(0, 200)} named ${named.join()}`,
    ).not.toEqual([]);
  };

  it('is refused where text can’t be kept as it was written', { timeout }, async () => {
    const bad = ['abc\\u0000b', 'abc\\ud800b', 'abc\\udc00'];
    await nothingWritten(
      Object.entries(good).flatMap(([operation, { body }]) =>
        placesIn(body)
          .filter((place) => typeof valueAt(body, place) === 'string')
          .flatMap((place) => bad.map((text) => [place, text] as const))
          .map(
            ([place, text]) =>
              () =>
                refused(operation, JSON.stringify(replaced(body, place, '§')).replace('§', text)),
          ),
      ),
    );
    for (const url of [
      '/api/search?q=a%00b',
      '/api/cases?q=%00%00',
      '/api/orders?state=%00',
      '/api/makers/%00',
      '/api/cases/%00/identity',
      `/api/cases/${'9'.repeat(90)}`,
      '/api/orders?page=2',
      `/api/orders?cursor=${'A'.repeat(401)}`,
      '/api/orders?perPage=201',
      '/api/orders?clinicId=mine',
      '/api/orders?sort=sideways',
      '/api/orders?surprise=1',
      '/api/orders?q=a&q=b',
    ]) {
      const told = await ask('GET', url, { as: una });
      expect(told.status, url).toBe(400);
      expect(told.type, url).toMatch(/^application\/problem\+json/);
      expect(pointersOf(told), url).not.toEqual([]);
    }
    expect((await say('{}', { as: 'A%00B' })).status).toBe(400);
  });

  it('is refused where no eye, day or version is like that', { timeout }, async () => {
    const before = await rowCounts();
    const measure = 'POST /api/cases/{id}/measurements';
    const { body } = good[measure]!;
    const values = body['values'] as Record<string, unknown>;
    const withValues = (changed: object) => ({ ...body, values: { ...values, ...changed } });
    await refused(measure, withValues({ axisDeg: 181 }), 400, '/values/axisDeg');
    await refused(measure, withValues({ axisDeg: -1 }), 400, '/values/axisDeg');
    await refused(measure, withValues({ cylinderD: 0, axisDeg: 30 }), 400, '/values/axisDeg');
    await refused(measure, withValues({ axisDeg: undefined }), 400, '/values/axisDeg');
    await refused(measure, withValues({ sphereD: -80 }), 400, '/values/sphereD');
    for (const token of ['NaN', 'Infinity'])
      await refused(measure, JSON.stringify(withValues({ sphereD: 7.75 })).replace('7.75', token));
    await refused(
      measure,
      JSON.stringify(withValues({ sphereD: 7.75 })).replace('7.75', '1e999'),
      400,
      '/values/sphereD',
    );
    for (const impossible of [
      '2026-02-30',
      '2025-02-29',
      '2026-13-01',
      '0000-01-01',
      '20260101',
      '9999-12-31',
    ])
      await refused(measure, { ...body, takenOn: impossible }, 400, '/takenOn');
    await refused(measure, { ...body, takenOn: day(-2) }, 400, '/takenOn');
    const correct = 'POST /api/cases/{id}/measurements/{measurementId}/correction';
    await refused(
      correct,
      { measurement: withValues({ axisDeg: 181 }), why: 'It was wrong.' },
      400,
      '/measurement/values/axisDeg',
    );
    const cornea = {
      kind: 'keratometry',
      takenOn: day(3),
      device: 'tomograph',
      values: { flatD: 50, steepD: 46, steepAxisDeg: 120, index: 'none' },
    };
    await refused(measure, cornea, 400, '/values/steepD');
    await refused(measure, { ...cornea, kind: 'health', values: {} }, 400, '/values');
    const target = { sphereD: 0, cylinderD: 0, axisDeg: 30 };
    for (const plan of ['POST /api/cases/{id}/plan-preview', 'POST /api/cases/{id}/plans']) {
      const { body: choice } = good[plan]!;
      await refused(plan, { ...choice, target }, 400, '/target/axisDeg');
      await refused(
        plan,
        { ...choice, target: { ...target, cylinderD: -1, axisDeg: null } },
        400,
        '/target/axisDeg',
      );
      await refused(plan, { ...choice, target: { ...target, cylinderD: 1 } }, 400, '/target/cylinderD');
    }
    const chosen = good['POST /api/cases/{id}/plans']!.body;
    await refused('POST /api/cases/{id}/plans', { ...chosen, axisDeg: 181 }, 400, '/axisDeg');
    await refused('POST /api/cases/{id}/plans', { ...chosen, cylinderD: 0 }, 400, '/axisDeg');
    const implant = good['POST /api/cases/{id}/implantation']!.body;
    for (const axisDeg of [0, 181, 1.5])
      await refused('POST /api/cases/{id}/implantation', { ...implant, axisDeg }, 400, '/axisDeg');
    for (const version of [0, -3, 1.5, '1', 1e300, null, [1]])
      await refused('POST /api/orders/{id}/submit', { version }, 400, '/version');
    for (const [operation, field] of [
      ['POST /api/cases', 'surgeonId'],
      ['POST /api/cases/{id}/plans', 'designVersionId'],
      ['POST /api/cases/{id}/implantation', 'lensId'],
      ['POST /api/arrivals/read', 'orderId'],
    ] as const)
      await refused(operation, { ...good[operation]!.body, [field]: 'not-a-uuid' }, 400, `/${field}`);
    expect(await rowCounts()).toEqual(before);
  });

  it('is not what names in other scripts are: they come back as they were written', async () => {
    const names = [
      '🌿 ירוק 12',
      'محمد العين',
      '👩🏽‍⚕️ Ωμέγα',
      'Nguyễn Ñandú',
      '眼睛',
      "O'Brien; drop table patient; --",
    ];
    const { body } = good['POST /api/cases']!;
    for (const [index, name] of names.entries()) {
      const opened = await send(
        'POST /api/cases',
        JSON.stringify({
          ...body,
          codeName: name,
          identity: { name: `${name} ${index}`, birthDate: '1994-02-03', recordNumber: name },
        }),
      );
      expect(opened.json).toMatchObject({ codeName: name });
      const identity = await ask('GET', `/api/cases/${opened.json.id}/identity`, { as: una });
      expect(identity.json).toEqual({
        name: `${name} ${index}`,
        birthDate: '1994-02-03',
        recordNumber: name,
      });
      const measured = await ask('POST', `/api/cases/${opened.json.id}/measurements`, {
        as: una,
        body: { ...good['POST /api/cases/{id}/measurements']!.body, device: name },
      });
      expect(measured.json.measurements.at(-1)).toMatchObject({ device: name });
      const found = await ask('GET', `/api/search?q=${encodeURIComponent(name.slice(0, 6))}`, { as: una });
      expect(found.json.items.length, name).toBeGreaterThan(0);
    }
  });

  it(
    'is refused whatever it is: bodies that nobody thought of',
    { timeout: Math.max(120_000, fuzzed * 40) },
    async () => {
      const value = fc.oneof(
        fc.jsonValue({ maxDepth: 3, stringUnit: 'binary' }),
        fc.constantFrom<Json>(
          -0,
          1e308,
          -1e308,
          2 ** 53,
          181,
          '\u0000',
          '\ud800',
          '💉',
          '٣',
          day(-1),
          '2026-02-30',
        ),
        fc.constantFrom<Json>('x'.repeat(100_000), Array(1000).fill([]), nested(2000)),
        fc.string({ unit: 'binary', maxLength: 400 }),
      ) as fc.Arbitrary<Json>;
      const operations = Object.keys(good);
      const bodies = fc.record({
        operation: fc.constantFrom(...operations),
        changes: fc.array(fc.record({ at: fc.nat(), value, how: fc.constantFrom('set', 'drop', 'add') }), {
          minLength: 1,
          maxLength: 3,
        }),
        whole: fc.option(value, { freq: 12, nil: undefined }),
        key: fc.string({ unit: 'binary', maxLength: 20 }),
      });
      const cases = fc.sample(bodies, { numRuns: fuzzed, seed });
      let before = await rowCounts();
      for (let from = 0; from < cases.length; from += 16) {
        const answers = await Promise.all(
          cases.slice(from, from + 16).map(async ({ operation, changes, whole, key }) => {
            let body: unknown = whole;
            if (whole === undefined) {
              body = good[operation]!.body;
              for (const change of changes) {
                const places = placesIn(body);
                const place = places[change.at % Math.max(1, places.length)] ?? [];
                if (change.how === 'drop') body = without(body, place);
                else if (change.how === 'set') body = replaced(body, place, change.value);
                else body = replaced(body, [...place.slice(0, -1), key || 'x'], change.value);
              }
            }
            const raw = JSON.stringify(body);
            const told = await send(operation, raw);
            if (told.status < 400) tally.taken += 1;
            else isProblem(operation, told, raw);
            return told.status;
          }),
        );
        const after = await rowCounts();
        if (answers.every((status) => status >= 400)) expect(after).toEqual(before);
        before = after;
      }
      console.log(
        `Bad input: ${tally.asked} bodies over ${operations.length} operations (${fuzzed} generated, seed ${seed}), ` +
          `${tally.refused} refused as problems, ${tally.taken} generated ones right by chance, no 5xx, no row half-written`,
      );
    },
  );
});

/** Every place in a body, as a path of keys: its fields and theirs. */
function placesIn(value: unknown, above: string[] = []): string[][] {
  if (typeof value !== 'object' || value === null || Array.isArray(value) || above.length > 4) return [];
  return Object.entries(value).flatMap(([key, item]) => [
    [...above, key],
    ...placesIn(item, [...above, key]),
  ]);
}

function valueAt(value: unknown, place: readonly string[]): unknown {
  return place.reduce((at, key) => (at as Record<string, unknown>)?.[key], value);
}

function replaced(value: unknown, [key, ...rest]: readonly string[], by: unknown): unknown {
  if (key === undefined) return by;
  const here = typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  const entries = Object.entries(here).filter(([name]) => name !== key);
  return Object.fromEntries([...entries, [key, replaced(here[key], rest, by)]]);
}

function without(value: unknown, [key, ...rest]: readonly string[]): unknown {
  if (key === undefined || typeof value !== 'object' || value === null) return value;
  const { [key]: item, ...others } = value as Record<string, unknown>;
  return rest.length === 0 ? others : { ...others, [key]: without(item, rest) };
}

function nested(depth: number): Json {
  let value: Json = 1;
  for (let level = 0; level < depth; level += 1) value = [value];
  return value;
}
