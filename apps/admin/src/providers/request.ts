import type { Problem } from '@lensferry/contracts';
import { inOurLanguage } from '../i18n/say-problem';

/** What the API answered when it refused: the problem itself, or what stands in for one that has no body. */
export class ApiProblem extends Error {
  override readonly name = 'ApiProblem';
  constructor(
    readonly status: number,
    readonly problem: Problem | null,
  ) {
    super(problem?.detail ?? `HTTP ${status}`);
  }
}

/** The request never reached the API. */
export class Unreachable extends Error {
  override readonly name = 'Unreachable';
}

export type Method = 'GET' | 'POST' | 'DELETE';

/** One request to our own host. Writes carry the header that a form of another site can't send. */
export async function request<T>(
  method: Method,
  path: string,
  body?: unknown,
  signal?: AbortSignal,
): Promise<T> {
  const headers: Record<string, string> = { accept: 'application/json' };
  if (method !== 'GET') headers['x-lensferry'] = '1';
  if (body !== undefined) headers['content-type'] = 'application/json';
  const init: RequestInit = { method, headers, credentials: 'same-origin' };
  if (body !== undefined) init.body = JSON.stringify(body);
  if (signal) init.signal = signal;
  const response = await fetch(`/api${path}`, init).catch((cause: unknown) => {
    if (cause instanceof DOMException && cause.name === 'AbortError') throw cause;
    throw new Unreachable('unreachable', { cause });
  });
  if (response.status === 204) return undefined as T;
  const answer: unknown = await response.json().catch(() => null);
  if (!response.ok)
    throw new ApiProblem(response.status, isProblem(answer) ? await inOurLanguage(answer) : null);
  return answer as T;
}

function isProblem(value: unknown): value is Problem {
  return typeof value === 'object' && value !== null && 'detail' in value && 'status' in value;
}
