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
import { ApiOperation, ApiResponse } from '@nestjs/swagger';
import { Problem } from '@lensferry/contracts';
import type { Permission } from '@lensferry/domain';
import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Actor } from './work.js';

/** Who may call a route: anybody, anybody signed in, or a role that the permission table names. */
export type Access = 'anybody' | 'signed-in' | Permission;
export const accessKey = 'lensferry:access';

interface RouteOptions {
  readonly summary: string;
  readonly access: Access;
  readonly answer?: z.ZodType;
  readonly status?: number;
}

const methods = { GET: Get, POST: Post, DELETE: Delete };

/** One route: its method and path, who may call it, what it answers, and its line in the OpenAPI document. */
export function Route(method: keyof typeof methods, path: string, options: RouteOptions): MethodDecorator {
  const status = options.status ?? 200;
  const success = options.answer
    ? ApiResponse({ status, description: 'Done.', standardSchema: options.answer as never })
    : ApiResponse({ status, description: 'Done.' });
  return applyDecorators(
    methods[method](path),
    HttpCode(status),
    SetMetadata(accessKey, options.access),
    ApiOperation({ summary: options.summary }),
    success,
    ApiResponse({
      status: 'default',
      description: 'A problem (RFC 9457).',
      standardSchema: Problem as never,
    }),
  );
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
