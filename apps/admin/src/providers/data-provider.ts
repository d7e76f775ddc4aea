import type { DataProvider, GetListParams, GetOneParams, RaRecord } from 'react-admin';
import { request } from './request';

/** Resources whose list is a page of a query; the others answer all they have. */
const paged = new Set(['cases', 'orders', 'lenses', 'returns', 'audit', 'people', 'ledger']);

interface Page {
  items: RaRecord[];
  total?: number;
  totalIsLeast?: boolean;
  next?: string | null;
  previous?: string | null;
}

/**
 * The part of a path after `?` for a list as react-admin asks for it. Where the page begins is one of the filter's
 * values (`cursor`), so it stays in the address like the rest of the filter.
 */
export function listQuery(params: GetListParams): string {
  const query = new URLSearchParams();
  query.set('perPage', String(params.pagination?.perPage ?? 25));
  if (params.sort && params.sort.field !== 'id') query.set('sort', params.sort.field);
  for (const [key, value] of Object.entries((params.filter ?? {}) as Record<string, unknown>)) {
    if (value === undefined || value === null || value === '') continue;
    query.set(key, Array.isArray(value) ? value.join(',') : String(value));
  }
  return query.toString();
}

/** What a list knows beside its rows. */
export interface PageMeta {
  next: string | null;
  previous: string | null;
  totalIsLeast: boolean;
}

function withId(resource: string, item: RaRecord): RaRecord {
  return resource === 'audit' ? { ...item, id: `${String(item['clinicId'])}-${String(item['seq'])}` } : item;
}

function notThisWay(): Promise<never> {
  return Promise.reject(new Error('Lensferry moves things by steps only; see `take`.'));
}

/** Reads by react-admin's own calls; every change goes through `take`, a step that the API judges. */
export const dataProvider = {
  supportAbortSignal: true,
  async getList(resource: string, params: GetListParams) {
    const path = paged.has(resource) ? `/${resource}?${listQuery(params)}` : `/${resource}`;
    const page = await request<Page>('GET', path, undefined, params.signal);
    return {
      data: page.items.map((item) => withId(resource, item)),
      total: page.total ?? page.items.length,
      meta: {
        next: page.next ?? null,
        previous: page.previous ?? null,
        totalIsLeast: page.totalIsLeast ?? false,
      } satisfies PageMeta,
    };
  },
  async getOne(resource: string, params: GetOneParams) {
    return { data: await request<RaRecord>('GET', `/${resource}/${params.id}`, undefined, params.signal) };
  },
  /** Any other answer of the API. */
  async read<T>(path: string, signal?: AbortSignal): Promise<T> {
    return request<T>('GET', path, undefined, signal);
  },
  /** Takes a step. */
  async take<T>(path: string, body: unknown): Promise<T> {
    return request<T>('POST', path, body);
  },
  getMany: notThisWay,
  getManyReference: notThisWay,
  create: notThisWay,
  update: notThisWay,
  updateMany: notThisWay,
  delete: notThisWay,
  deleteMany: notThisWay,
} as unknown as LensferryDataProvider;

export type LensferryDataProvider = DataProvider & {
  read<T>(path: string, signal?: AbortSignal): Promise<T>;
  take<T>(path: string, body: unknown): Promise<T>;
};
