import { Body, Controller, Inject, Query, Req, Res } from '@nestjs/common';
import { CurrentSession, ListQuery, PersonPage, SignIn } from '@lensferry/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Settings } from '../config.js';
import { Database } from '../platform/database.js';
import { requireOwnHeader } from '../platform/own-header.js';
import { Me, Route, type SignedIn } from '../platform/route.js';
import { sessionCookie } from '../platform/session-guard.js';
import { settingsToken } from '../platform/tokens.js';
import type { Actor } from '../platform/work.js';
import { describeSession, endSession, nobody, sessionHash } from './sessions.store.js';
import { listPeople } from './people.queries.js';
import { signIn } from './sign-in.js';

@Controller('api')
export class PeopleController {
  constructor(
    @Inject(Database) private readonly database: Database,
    @Inject(settingsToken) private readonly settings: Settings,
  ) {}

  @Route('POST', 'session', { summary: 'Sign in.', access: 'anybody', answer: CurrentSession })
  async signIn(
    @Body({ schema: SignIn }) input: SignIn,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<CurrentSession> {
    requireOwnHeader(request);
    const device = String(request.headers['user-agent'] ?? '');
    const { token, expiresAt } = await signIn(this.database, input, { device, address: request.ip });
    void reply.setCookie(sessionCookie, token, {
      httpOnly: true,
      sameSite: 'strict',
      secure: this.settings.SECURE_COOKIES,
      path: '/',
      expires: expiresAt,
    });
    return this.describe(sessionHash(token));
  }

  @Route('GET', 'session', {
    summary: 'Who is signed in.',
    access: 'signed-in',
    answer: CurrentSession,
    beforeSecondFactor: true,
  })
  current(@Req() request: SignedIn): Promise<CurrentSession> {
    return this.describe(request.sessionHash ?? '');
  }

  @Route('DELETE', 'session', {
    summary: 'Sign out.',
    access: 'signed-in',
    status: 204,
    beforeSecondFactor: true,
  })
  async signOut(@Req() request: SignedIn, @Res({ passthrough: true }) reply: FastifyReply): Promise<void> {
    await this.database.work(nobody, (work) => endSession(work, request.sessionHash ?? ''));
    void reply.clearCookie(sessionCookie, { path: '/' });
  }

  @Route('GET', 'people', {
    summary: 'A page of the colleagues at the clinics of the person who asks; `state` is a role.',
    access: 'people.read',
    answer: PersonPage,
    query: ListQuery,
  })
  people(
    @Me() me: Actor,
    @Query({ schema: ListQuery }) query: ListQuery,
  ): Promise<z.infer<typeof PersonPage>> {
    return this.database.work(me, (work) => listPeople(work, query));
  }

  private describe(tokenHash: string): Promise<CurrentSession> {
    return this.database.work(nobody, (work) => describeSession(work, tokenHash, this.settings));
  }
}
