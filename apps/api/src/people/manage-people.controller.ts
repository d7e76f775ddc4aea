import { Body, Controller, Inject, Param } from '@nestjs/common';
import {
  ChangeMembership,
  Id,
  MadeInvitation,
  PersonSummary,
  ReasonForPerson,
  SessionList,
} from '@lensferry/contracts';
import { Database } from '../platform/database.js';
import { Me, Route } from '../platform/route.js';
import type { Actor, Work } from '../platform/work.js';
import { renewPassword } from './invitations.store.js';
import {
  changeMembership,
  deactivatePerson,
  endTheirSessions,
  loadManaged,
  reactivatePerson,
  resetSecondFactor,
} from './manage-people.store.js';
import { findPerson } from './people.queries.js';
import { listSessions } from './sessions.store.js';

const manage = { access: 'people.manage' } as const;

/** What an administrator does to the accounts of the own clinics. */
@Controller('api/people')
export class ManagePeopleController {
  constructor(@Inject(Database) private readonly database: Database) {}

  @Route('GET', ':id/sessions', { summary: 'The sessions of a person.', ...manage, answer: SessionList })
  async sessions(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<SessionList> {
    const items = await this.database.work(me, async (work) => {
      await loadManaged(work, id);
      return listSessions(work, id, null);
    });
    return { items };
  }

  @Route('POST', ':id/end-sessions', {
    summary: 'End every session of a person.',
    ...manage,
    answer: PersonSummary,
  })
  endSessions(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonForPerson }) _input: ReasonForPerson,
  ): Promise<PersonSummary> {
    return this.changed(me, id, (work) => endTheirSessions(work, id));
  }

  @Route('POST', ':id/deactivate', {
    summary: 'Somebody leaves: sessions and live updates end at once.',
    ...manage,
    answer: PersonSummary,
  })
  deactivate(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonForPerson }) { why }: ReasonForPerson,
  ): Promise<PersonSummary> {
    return this.changed(me, id, (work) => deactivatePerson(work, id, why));
  }

  @Route('POST', ':id/reactivate', { summary: 'Somebody comes back.', ...manage, answer: PersonSummary })
  reactivate(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonForPerson }) { why }: ReasonForPerson,
  ): Promise<PersonSummary> {
    return this.changed(me, id, (work) => reactivatePerson(work, id, why));
  }

  @Route('POST', ':id/place', { summary: 'Another role or other clinics.', ...manage, answer: PersonSummary })
  place(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ChangeMembership }) input: ChangeMembership,
  ): Promise<PersonSummary> {
    return this.changed(me, id, (work) => changeMembership(work, id, input));
  }

  @Route('POST', ':id/reset-second-factor', {
    summary: 'Turn off the second factor of who lost it.',
    ...manage,
    answer: PersonSummary,
  })
  resetFactor(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonForPerson }) { why }: ReasonForPerson,
  ): Promise<PersonSummary> {
    return this.changed(me, id, (work) => resetSecondFactor(work, id, why));
  }

  @Route('POST', ':id/renew-password', {
    summary: 'A one-time link by which a person chooses a new password.',
    ...manage,
    status: 201,
    answer: MadeInvitation,
  })
  renew(
    @Me() me: Actor,
    @Param('id', { schema: Id }) id: string,
    @Body({ schema: ReasonForPerson }) _input: ReasonForPerson,
  ): Promise<MadeInvitation> {
    return this.database.work(me, (work) => renewPassword(work, id));
  }

  private async changed(
    me: Actor,
    id: string,
    change: (work: Work) => Promise<void>,
  ): Promise<PersonSummary> {
    const person = await this.database.work(me, async (work) => {
      await change(work);
      return findPerson(work, id);
    });
    if (person === null) throw new Error('The person changed is not among those of the clinics.');
    return person;
  }
}
