import type { House, Person } from './house.js';

export type Method = 'GET' | 'POST' | 'DELETE' | 'PUT' | 'PATCH';

export interface Question {
  readonly as?: Person | null;
  /** Sent as JSON. */
  readonly body?: unknown;
  /** Sent as it stands, in place of `body`. */
  readonly raw?: string | Buffer;
  readonly headers?: Record<string, string>;
}

export interface Told {
  readonly method: Method;
  readonly url: string;
  readonly status: number;
  readonly type: string;
  readonly text: string;
  /** The answer read as JSON; undefined when it is none. */
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  readonly json: any;
}

export type Ask = (method: Method, url: string, question?: Question) => Promise<Told>;

let asked = 0;

/** Asks the API anything, from an address that changes often enough for the rate limit never to answer. */
export function makeAsk({ app }: House): Ask {
  return async (method, url, { as, body, raw, headers = {} } = {}) => {
    asked += 1;
    const payload = raw ?? (body === undefined ? undefined : JSON.stringify(body));
    const answer = await app.inject({
      method,
      url,
      remoteAddress: `10.9.${(asked >> 16) & 255}.${(asked >> 8) & 255}`,
      headers: {
        'x-lensferry': '1',
        ...(as ? { cookie: as.cookie } : {}),
        ...(payload === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(payload === undefined ? {} : { payload }),
    });
    return {
      method,
      url,
      status: answer.statusCode,
      type: String(answer.headers['content-type'] ?? ''),
      text: answer.payload,
      json: readJson(answer.payload),
    };
  };
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
