import { HttpException, Inject, Injectable, type CanActivate, type ExecutionContext } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import { DomainError, may, type Role } from '@lensferry/domain';
import type {} from '@fastify/cookie';
import { findSession } from '../people/sessions.store.js';
import { Database } from './database.js';
import { ownHeader } from './own-header.js';
import { accessKey, type Access, type SignedIn } from './route.js';

export const sessionCookie = 'lensferry_session';

/** Lets a request through when its route says who may call it and the session is of such a person. */
@Injectable()
export class SessionGuard implements CanActivate {
  constructor(
    @Inject(Reflector) private readonly reflector: Reflector,
    @Inject(Database) private readonly database: Database,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const access = this.reflector.get<Access | undefined>(accessKey, context.getHandler());
    if (access === undefined)
      throw new Error(`Route ${context.getHandler().name} does not say who may call it.`);
    const request = context.switchToHttp().getRequest<SignedIn>();
    if (access === 'anybody') return true;
    const token = request.cookies[sessionCookie];
    const session = token === undefined ? null : await findSession(this.database, token);
    if (session === null) throw new HttpException('Sign in first; the last session has ended.', 401);
    if (request.method !== 'GET' && request.headers[ownHeader] === undefined)
      throw new DomainError(
        'forbidden',
        'request.foreign',
        `Send the header ${ownHeader} with every change.`,
      );
    request.actor = session.actor;
    request.sessionHash = session.tokenHash;
    if (access !== 'signed-in' && !may(session.actor.kind as Role, access))
      throw new DomainError(
        'forbidden',
        'person.not-permitted',
        `As ${session.actor.kind} you can't do this here; ask a colleague whose role it is.`,
        {
          permission: access,
          role: session.actor.kind,
        },
      );
    return true;
  }
}
