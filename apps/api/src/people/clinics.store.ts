import type { AddClinic, AddedClinic, FoundNetwork } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Actor, Work } from '../platform/work.js';
import type { Database } from '../platform/database.js';
import { inviteFirst } from './invitations.store.js';
import { nobody } from './sessions.store.js';

/** Adds a clinic to the network. @throws DomainError `clinic.exists`, `clinic.letter`, `clinic.zone`. */
async function createClinic({ tx }: Work, input: AddClinic): Promise<AddedClinic> {
  const { code, name, timeZone, holidays } = input;
  if (!Intl.supportedValuesOf('timeZone').includes(timeZone) && timeZone !== 'UTC')
    throw new DomainError(
      'invalid',
      'clinic.zone',
      `${timeZone} is no time zone; write it as Europe/Zurich.`,
      {},
      [{ pointer: '/timeZone', message: 'Write it as Europe/Zurich.' }],
    );
  const others = await tx.clinic.findMany();
  if (others.some((other) => other.name.toLowerCase() === name.toLowerCase()))
    throw new DomainError('conflict', 'clinic.exists', 'A clinic of the network has this name already.', {}, [
      { pointer: '/name', message: 'Choose another name.' },
    ]);
  if (others.some((other) => other.code.charAt(0) === code.charAt(0)))
    throw new DomainError(
      'conflict',
      'clinic.letter',
      'Another clinic’s code begins with this letter, and numbers of orders begin with it; choose another first letter.',
      {},
      [{ pointer: '/code', message: 'Choose another first letter.' }],
    );
  const { id } = await tx.clinic.create({ data: { id: uuid(), code, name, timeZone, holidays } });
  return { id, code, name, timeZone };
}

/** An administrator adds a clinic and belongs to it from now on; colleagues are invited to it. */
export async function addClinic(database: Database, me: Actor, input: AddClinic): Promise<AddedClinic> {
  const added = await database.work(me, async (work) => {
    work.need('people.manage');
    const clinic = await createClinic(work, input);
    await work.tx.clinicMember.create({ data: { clinicId: clinic.id, personId: work.personId } });
    return clinic;
  });
  // Its record begins with its own first line: only now is the clinic in the person's sight.
  await database.work({ ...me, clinicIds: [...me.clinicIds, added.id] }, async (work) => {
    work.record({ clinicId: added.id, action: 'clinic.add', facts: { name: added.name, code: added.code } });
  });
  return added;
}

/**
 * Makes the first clinic of an empty network and a link by which its administrator joins; the link works once.
 * @throws DomainError `network.founded` when there is anybody already.
 */
export async function foundNetwork(database: Database, input: FoundNetwork): Promise<{ path: string }> {
  const { adminName, adminEmail, ...clinic } = input;
  const founded = await database.work(nobody, async (work) => {
    if ((await work.tx.person.count()) > 0 || (await work.tx.clinic.count()) > 0)
      throw new DomainError(
        'conflict',
        'network.founded',
        'This network has a clinic already: an administrator adds others, and invites people, on the page People.',
      );
    return createClinic(work, { ...clinic, holidays: [] });
  });
  const founder: Actor = { ...nobody, name: 'Founding', clinicIds: [founded.id] };
  return database.work(founder, async (work) => {
    work.record({
      clinicId: founded.id,
      action: 'clinic.add',
      facts: { name: founded.name, code: founded.code },
    });
    return inviteFirst(work, {
      name: adminName,
      email: adminEmail.toLowerCase(),
      role: 'administrator',
      clinicIds: [founded.id],
    });
  });
}
