import { Ajv2020 } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import type { House } from './house.js';
import type { Told } from './ask.js';

interface Media {
  readonly schema: object;
}
export interface Operation {
  readonly operationId: string;
  readonly summary: string;
  readonly parameters?: readonly {
    name: string;
    in: string;
    required?: boolean;
    schema: Record<string, unknown>;
  }[];
  readonly requestBody?: {
    required: boolean;
    content: Record<string, Media & { schema: { $ref?: string } }>;
  };
  readonly responses: Record<string, { content?: Record<string, Media> }>;
  readonly security?: readonly object[];
}
export interface OpenApi {
  readonly openapi: string;
  readonly paths: Record<string, Record<string, Operation>>;
  readonly components: { schemas: Record<string, object>; securitySchemes: Record<string, object> };
}

const base = 'https://lensferry.example/openapi';
const escaped = (part: string): string =>
  encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1'));

/** The document as the API serves it, and a judge of answers by it. */
export async function readOpenApi(house: House) {
  const answer = await house.app.inject({ url: '/api/openapi.json' });
  const document = JSON.parse(answer.payload) as OpenApi;
  const ajv = new Ajv2020({ strict: false, allErrors: true, multipleOfPrecision: 6 });
  (formats as unknown as (to: Ajv2020) => void)(ajv);
  ajv.addSchema({ $id: base, ...document } as object);

  /** What is untrue of an answer by the document; empty when all of it holds. */
  const faultsOf = (operation: string, told: Told): string[] => {
    const [method = '', path = ''] = operation.split(' ');
    const described = document.paths[path]?.[method.toLowerCase()];
    if (described === undefined) return [`${operation} is not in the document`];
    const status = String(told.status) in described.responses ? String(told.status) : 'default';
    if (status === 'default' && told.status < 400)
      return [`${operation} answered ${told.status}, undocumented`];
    const { content } = described.responses[status] ?? {};
    if (content === undefined) return told.text === '' ? [] : [`${operation} answered a body, undocumented`];
    const type = told.type.split(';')[0] ?? '';
    if (content[type] === undefined)
      return [`${operation} answered ${type || 'no media type'}, undocumented`];
    const place = ['paths', path, method.toLowerCase(), 'responses', status, 'content', type, 'schema'];
    const validate = ajv.getSchema(`${base}#/${place.map(escaped).join('/')}`);
    if (validate === undefined) return [`${operation} ${status} has no schema`];
    if (validate(type.endsWith('json') ? told.json : told.text)) return [];
    return (validate.errors ?? []).map(
      ({ instancePath, message, params }) =>
        `${operation} ${told.status} ${instancePath} ${message} ${JSON.stringify(params)}`,
    );
  };
  return { document, ajv, faultsOf };
}
export type ApiDocument = Awaited<ReturnType<typeof readOpenApi>>;

/** Every operation of the document as `POST /api/orders/{id}/sign`. */
export const operationsOf = ({ paths }: OpenApi): string[] =>
  Object.entries(paths)
    .flatMap(([path, methods]) => Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`))
    .sort();

/** Every route that the running server has under /api and /health, read from its own table. */
export function routesOf({ app }: House): string[] {
  const table = app.getHttpAdapter().getInstance().printRoutes({ commonPrefix: false });
  const above: string[] = [];
  const routes: string[] = [];
  for (const line of table.split('\n')) {
    const found = /^(.*)[├└]── (\S+)(?: \((.+)\))?$/.exec(line);
    if (found === null) continue;
    const [, indent = '', part = '', methods = ''] = found;
    above.splice(indent.length / 4, Infinity, part);
    const path = above.join('').replaceAll(/:(\w+)/g, '{$1}');
    for (const method of methods.split(', '))
      if (/^\/(api|health)\//.test(path) && !['', 'HEAD', 'OPTIONS'].includes(method))
        routes.push(`${method} ${path}`);
  }
  return routes.sort();
}
