import { Body, Controller, Inject, Param, Req } from '@nestjs/common';
import {
  ChangePassword,
  ConfirmPassword,
  ConfirmSecondFactor,
  Id,
  RecoveryCodes,
  SecondFactorOffer,
  SessionList,
} from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Settings } from '../config.js';
import { Database } from '../platform/database.js';
import { Me, Route, type SignedIn } from '../platform/route.js';
import { settingsToken } from '../platform/tokens.js';
import type { Actor } from '../platform/work.js';
import {
  changePassword,
  confirmSecondFactor,
  offerSecondFactor,
  removeSecondFactor,
} from './account.store.js';
import { BreachedPasswords } from './breached-passwords.js';
import { endSessionsOf, listSessions, nobody } from './sessions.store.js';
import { withPassword } from './throttle.js';

const own = { access: 'signed-in', beforeSecondFactor: true } as const;

/** What a person does to the own account. */
@Controller('api/account')
export class AccountController {
  constructor(
    @Inject(Database) private readonly database: Database,
    @Inject(settingsToken) private readonly settings: Settings,
    @Inject(BreachedPasswords) private readonly breached: BreachedPasswords,
  ) {}

  @Route('POST', 'password', { summary: 'Choose a new password; other sessions end.', ...own, status: 204 })
  async password(
    @Me() me: Actor,
    @Req() { sessionHash = '' }: SignedIn,
    @Body({ schema: ChangePassword }) input: ChangePassword,
  ): Promise<void> {
    await this.breached.refuse(input.newPassword);
    await withPassword(this.database, me, (work) => changePassword(work, input, sessionHash));
  }

  @Route('POST', 'second-factor', {
    summary: 'Make a secret for an authenticator; it counts once a code confirms it.',
    ...own,
    answer: SecondFactorOffer,
  })
  offer(
    @Me() me: Actor,
    @Body({ schema: ConfirmPassword }) input: ConfirmPassword,
  ): Promise<SecondFactorOffer> {
    return withPassword(this.database, me, (work) => offerSecondFactor(work, input.password));
  }

  @Route('POST', 'second-factor/confirm', {
    summary: 'Turn the second factor on by its first code; recovery codes are shown once.',
    ...own,
    answer: RecoveryCodes,
  })
  confirm(
    @Me() me: Actor,
    @Req() { sessionHash = '' }: SignedIn,
    @Body({ schema: ConfirmSecondFactor }) { code }: ConfirmSecondFactor,
  ): Promise<RecoveryCodes> {
    return withPassword(this.database, me, (work) => confirmSecondFactor(work, code, sessionHash));
  }

  @Route('POST', 'second-factor/remove', { summary: 'Turn the second factor off.', ...own, status: 204 })
  async remove(
    @Me() me: Actor,
    @Body({ schema: ConfirmPassword }) { password }: ConfirmPassword,
  ): Promise<void> {
    const required = this.settings.REQUIRE_SECOND_FACTOR;
    await withPassword(this.database, me, (work) => removeSecondFactor(work, password, required));
  }

  @Route('GET', 'sessions', { summary: 'One’s own sessions.', ...own, answer: SessionList })
  async sessions(@Me() me: Actor, @Req() { sessionHash = '' }: SignedIn): Promise<SessionList> {
    const items = await this.database.work(nobody, (work) =>
      listSessions(work, me.personId ?? '', sessionHash),
    );
    return { items };
  }

  @Route('DELETE', 'sessions/:id', { summary: 'End one of one’s own sessions.', ...own, status: 204 })
  async endSession(@Me() me: Actor, @Param('id', { schema: Id }) id: string): Promise<void> {
    const ended = await this.database.work(nobody, (work) => endSessionsOf(work, me.personId ?? '', { id }));
    if (ended === 0)
      throw new DomainError(
        'missing',
        'session.missing',
        'You have no such session; it may have ended already.',
      );
  }
}
