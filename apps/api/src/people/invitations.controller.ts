import { Body, Controller, Inject, Param, Req } from '@nestjs/common';
import {
  AcceptInvitation,
  Id,
  InvitationList,
  InvitationShown,
  InvitePerson,
  LookAtInvitation,
  MadeInvitation,
} from '@lensferry/contracts';
import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { Database } from '../platform/database.js';
import { requireOwnHeader } from '../platform/own-header.js';
import { Me, Route } from '../platform/route.js';
import type { Actor } from '../platform/work.js';
import {
  acceptInvitation,
  invitePerson,
  joiningActor,
  listInvitations,
  lookAtInvitation,
  withdrawInvitation,
} from './invitations.store.js';
import { BreachedPasswords } from './breached-passwords.js';
import { nobody } from './sessions.store.js';

@Controller('api/invitations')
export class InvitationsController {
  constructor(
    @Inject(Database) private readonly database: Database,
    @Inject(BreachedPasswords) private readonly breached: BreachedPasswords,
  ) {}

  @Route('GET', '', {
    summary: 'Invitations that are open.',
    access: 'people.manage',
    answer: InvitationList,
  })
  async list(@Me() me: Actor): Promise<z.infer<typeof InvitationList>> {
    return { items: await this.database.work(me, listInvitations) };
  }

  @Route('POST', '', {
    summary: 'Invite somebody; the one-time link is told once.',
    access: 'people.manage',
    status: 201,
    answer: MadeInvitation,
  })
  invite(@Me() me: Actor, @Body({ schema: InvitePerson }) input: InvitePerson): Promise<MadeInvitation> {
    return this.database.work(me, (work) => invitePerson(work, input));
  }

  @Route('DELETE', ':id', { summary: 'Withdraw an invitation.', access: 'people.manage', status: 204 })
  async withdraw(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<void> {
    await this.database.work(me, (work) => withdrawInvitation(work, id));
  }

  @Route('POST', 'look', { summary: 'Whom a link invites.', access: 'anybody', answer: InvitationShown })
  look(
    @Req() request: FastifyRequest,
    @Body({ schema: LookAtInvitation }) { token }: LookAtInvitation,
  ): Promise<InvitationShown> {
    requireOwnHeader(request);
    return this.database.work(nobody, (work) => lookAtInvitation(work, token));
  }

  @Route('POST', 'accept', { summary: 'Choose a password by a link.', access: 'anybody', status: 204 })
  async accept(
    @Req() request: FastifyRequest,
    @Body({ schema: AcceptInvitation }) input: AcceptInvitation,
  ): Promise<void> {
    requireOwnHeader(request);
    const actor = await this.database.work(nobody, (work) => joiningActor(work, input.token));
    await this.breached.refuse(input.newPassword);
    await this.database.work(actor, (work) => acceptInvitation(work, input));
  }
}
