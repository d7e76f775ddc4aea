import {
  applyDecorators,
  createParamDecorator,
  Delete,
  Get,
  HttpCode,
  Post,
  SetMetadata,
  type ExecutionContext,
} from '@nestjs/common';
import { ApiCookieAuth, ApiHeader, ApiOperation, ApiQuery, ApiResponse } from '@nestjs/swagger';
import { Problem } from '@lensferry/contracts';
import type { Permission } from '@lensferry/domain';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { ownHeader } from './own-header.js';
import type { Actor } from './work.js';

/** Who may call a route: anybody, anybody signed in, or a role that the permission table names. */
export type Access = 'anybody' | 'signed-in' | Permission;
export const accessKey = 'lensferry:access';
/** Marks what is open to a session that has to set up its second factor first. */
export const openBeforeKey = 'lensferry:open-before-second-factor';

interface RouteOptions {
  readonly summary: string;
  readonly access: Access;
  readonly answer?: z.ZodType;
  readonly status?: number;
  /** What may stand after the question mark; the handler checks it by the same schema. */
  readonly query?: z.ZodObject;
  /** What is answered when it is not JSON. */
  readonly mediaType?: string;
  /** Open also before a second factor that the installation asks for is set up. */
  readonly beforeSecondFactor?: boolean;
}

const methods = { GET: Get, POST: Post, DELETE: Delete };

/** One route: its method and path, who may call it, what it answers, and its line in the OpenAPI document. */
export function Route(method: keyof typeof methods, path: string, options: RouteOptions): MethodDecorator {
  const status = options.status ?? 200;
  return applyDecorators(
    methods[method](path),
    HttpCode(status),
    SetMetadata(accessKey, options.access),
    SetMetadata(openBeforeKey, options.beforeSecondFactor === true),
    ApiOperation({ summary: options.summary }),
    successOf(status, options),
    ApiResponse({
      status: 'default',
      description: 'A problem (RFC 9457).',
      standardSchema: Problem as never,
    }),
    ...queryOf(options.query),
    ...sessionOf(method, options.access),
  );
}

function successOf(status: number, { answer, mediaType }: RouteOptions): MethodDecorator {
  const description = 'Done.';
  if (answer !== undefined) return ApiResponse({ status, description, standardSchema: answer as never });
  const type = mediaType?.endsWith('json') === true ? 'object' : 'string';
  if (mediaType !== undefined)
    return ApiResponse({ status, description, content: { [mediaType]: { schema: { type } } } });
  return ApiResponse({ status, description });
}

function queryOf(query: z.ZodObject | undefined): MethodDecorator[] {
  return Object.entries(query?.shape ?? {}).map(([name, field]) => {
    const { $schema: _dialect, ...schema } = z.toJSONSchema(field as z.ZodType, { io: 'input' });
    return ApiQuery({
      name,
      required: !(field as z.ZodType).safeParse(undefined).success,
      schema: schema as never,
    });
  });
}

function sessionOf(method: string, access: Access): MethodDecorator[] {
  if (access === 'anybody') return [];
  const header = { name: ownHeader, required: true, description: 'Any value: shows that our own page asks.' };
  return method === 'GET' ? [ApiCookieAuth()] : [ApiCookieAuth(), ApiHeader(header)];
}

/** What the guard leaves on a request. */
export interface SignedIn extends FastifyRequest {
  actor?: Actor;
  sessionHash?: string;
}

/** The person who asks. */
export const Me = createParamDecorator((_: unknown, context: ExecutionContext): Actor => {
  const { actor } = context.switchToHttp().getRequest<SignedIn>();
  if (actor === undefined) throw new Error('A route without a session asked who is signed in.');
  return actor;
});
