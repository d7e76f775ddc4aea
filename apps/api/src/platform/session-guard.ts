import { HttpException, Inject, Injectable, type CanActivate, type ExecutionContext } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import { DomainError, may, type Role } from '@lensferry/domain';
import type {} from '@fastify/cookie';
import type { Settings } from '../config.js';
import { findSession, needsSecondFactor } from '../people/sessions.store.js';
import { Database } from './database.js';
import { requireOwnHeader } from './own-header.js';
import { accessKey, openBeforeKey, type Access, type SignedIn } from './route.js';
import { settingsToken } from './tokens.js';

export const sessionCookie = 'lensferry_session';

/** Lets a request through when its route says who may call it and the session is of such a person. */
@Injectable()
export class SessionGuard implements CanActivate {
  constructor(
    @Inject(Reflector) private readonly reflector: Reflector,
    @Inject(Database) private readonly database: Database,
    @Inject(settingsToken) private readonly settings: Settings,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const access = this.reflector.get<Access | undefined>(accessKey, context.getHandler());
    if (access === undefined)
      throw new Error(`Route ${context.getHandler().name} does not say who may call it.`);
    const request = context.switchToHttp().getRequest<SignedIn>();
    if (access === 'anybody') return true;
    const openBefore = this.reflector.get<boolean | undefined>(openBeforeKey, context.getHandler()) === true;
    const token = request.cookies[sessionCookie];
    const session = token === undefined ? null : await findSession(this.database, token);
    if (session === null) throw new HttpException('Sign in first; the last session has ended.', 401);
    if (request.method !== 'GET') requireOwnHeader(request);
    const required = this.settings.REQUIRE_SECOND_FACTOR;
    if (!openBefore && needsSecondFactor(required, session.actor.kind, session.secondFactor))
      throw new DomainError(
        'forbidden',
        'person.second-factor-needed',
        `As ${session.actor.kind} you need a second factor here; set it up under "My account" first.`,
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
