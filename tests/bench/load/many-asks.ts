import { Agent, get } from 'node:http';

/** Asks an address as often as it can for a while, so many at a time over connections that stay open. @returns answers a second */
export async function manyAsks(
  url: string,
  { cookie, hands, forMs }: { cookie: string; hands: number; forMs: number },
): Promise<number> {
  const agent = new Agent({ keepAlive: true, maxSockets: hands });
  const end = performance.now() + forMs;
  let answered = 0;
  const hand = async (): Promise<void> => {
    while (performance.now() < end) {
      await ask(url, cookie, agent);
      answered += 1;
    }
  };
  const from = performance.now();
  await Promise.all(Array.from({ length: hands }, hand));
  agent.destroy();
  return (answered * 1000) / (performance.now() - from);
}

/** The body of one answer. @throws Error for any status but 200. */
export function ask(url: string, cookie: string, agent = new Agent()): Promise<string> {
  return new Promise((done, failed) => {
    get(url, { agent, headers: { cookie } }, (answer) => {
      let body = '';
      answer.setEncoding('utf8');
      answer.on('data', (part: string) => (body += part));
      answer.on('end', () =>
        answer.statusCode === 200
          ? done(body)
          : failed(new Error(`${url} answered ${answer.statusCode}: ${body.slice(0, 200)}`)),
      );
    }).on('error', failed);
  });
}

export const middle = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
