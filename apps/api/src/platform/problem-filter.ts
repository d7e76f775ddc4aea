import { STATUS_CODES } from 'node:http';
import { Catch, HttpException, type ArgumentsHost, type ExceptionFilter } from '@nestjs/common';
import { DomainError, type ErrorKind } from '@lensferry/domain';
import type { Problem } from '@lensferry/contracts';
import type { FastifyReply } from 'fastify';
import { codeNeeded } from './own-header.js';
import { logger } from './logger.js';
import type { SignedIn } from './route.js';

const statusOf: Record<ErrorKind, number> = {
  invalid: 400,
  forbidden: 403,
  missing: 404,
  conflict: 409,
  refused: 422,
};

type Answer = Pick<Problem, 'status' | 'detail' | 'code' | 'facts' | 'errors'>;

/** Turns every error into an RFC 9457 problem: what went wrong, in one sentence that says what to mend. */
@Catch()
export class ProblemFilter implements ExceptionFilter {
  catch(error: unknown, host: ArgumentsHost): void {
    const reply = host.switchToHttp().getResponse<FastifyReply>();
    const request = host.switchToHttp().getRequest<SignedIn>();
    const answer = toAnswer(error);
    if (answer.status >= 500 && !(error instanceof HttpException))
      logger.error({ err: error, requestId: request.id, route: request.routeOptions?.url }, 'request failed');
    if (refusals.has(answer.status)) noteRefusal(request, answer);
    if (reply.raw.headersSent) return;
    void reply
      .status(answer.status)
      .header('content-type', 'application/problem+json; charset=utf-8')
      .headers(answer.status === 503 ? { 'retry-after': '2' } : {})
      .send({
        type: `urn:lensferry:problem:${answer.code}`,
        title: STATUS_CODES[answer.status] ?? 'Problem',
        ...answer,
      } satisfies Problem);
  }
}

const refusals: ReadonlySet<number> = new Set([401, 403, 429]);

/** Who was not let in or not let do something, where and why; no name, no body, and of the address only its route. */
function noteRefusal(request: SignedIn, { status, code }: Answer): void {
  logger.info(
    {
      requestId: request.id,
      method: request.method,
      route: request.routeOptions?.url,
      status,
      code,
      personId: request.actor?.personId ?? null,
      address: request.ip,
    },
    'refused',
  );
}

function toAnswer(error: unknown): Answer {
  if (error instanceof DomainError) {
    return {
      status: statusOf[error.kind],
      code: error.code,
      detail: error.message,
      facts: error.facts,
      ...(error.fields.length > 0 ? { errors: [...error.fields] } : {}),
    };
  }
  if (error instanceof HttpException) return ofHttp(error.getStatus(), error.message);
  const { statusCode, code, name } = (error ?? {}) as { statusCode?: number; code?: string; name?: string };
  if (code === 'P2002' || code === 'P2034')
    return {
      status: 409,
      code: 'conflict',
      detail: 'Somebody else did this a moment ago; reload to see how it stands now.',
    };
  if (
    code === 'P2028' ||
    code === 'P1001' ||
    code === 'P1017' ||
    name === 'PrismaClientInitializationError' ||
    isLost(error)
  )
    return {
      status: 503,
      code: 'database.away',
      detail: 'The database does not answer just now; nothing was changed, try again in a moment.',
    };
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) return ofHttp(statusCode, '');
  return {
    status: 500,
    code: 'internal',
    detail: 'Something went wrong here and was logged; nothing was changed.',
  };
}

function isLost(error: unknown): boolean {
  const text =
    String((error as { message?: string } | null)?.message ?? '') +
    String((error as { code?: string } | null)?.code ?? '');
  return /ECONNREFUSED|ECONNRESET|57P0|Connection terminated|Can't reach database|server closed the connection/.test(
    text,
  );
}

const sentences: Record<number, [code: string, detail: string]> = {
  400: [
    'request.unreadable',
    'The request is not readable JSON; check it for a missing bracket or quotation mark.',
  ],
  401: ['session.needed', 'Sign in first.'],
  403: ['request.forbidden', 'This request is not allowed.'],
  404: ['route.unknown', 'There is nothing at this address.'],
  405: ['route.method', 'This address does not take this method.'],
  413: ['request.too-large', 'The request is over 1 MB; send less at a time.'],
  415: ['request.media-type', 'Send JSON, with the header content-type: application/json.'],
  429: ['request.too-many', 'Too many requests; wait a minute and try again.'],
  503: ['server.busy', 'Not ready just now; try again in a moment.'],
};

function ofHttp(status: number, message: string): Answer {
  if (message === codeNeeded) return { status, code: 'session.code-needed', detail: message };
  const [code, detail] = sentences[status] ?? ['request.refused', message || 'The request was refused.'];
  return { status, code, detail: status === 401 || status === 429 ? message || detail : detail };
}
