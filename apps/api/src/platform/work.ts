import { may, type ActorKind, type Permission, DomainError, type Role, roles } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { entryHash, genesis, type Entry } from './audit.js';
import type { Prisma } from './prisma-client/client.js';
import type { SealedBox } from './sealed-box.js';

export type Tx = Prisma.TransactionClient;

/** Who does a thing: a person, a maker by its message, or the dispatch worker. Bound to the clinics it may see. */
export interface Actor {
  readonly kind: ActorKind;
  readonly personId: string | null;
  readonly name: string;
  readonly clinicIds: readonly string[];
}

/**
 * One unit of work: a transaction that sees only the actor's clinics, the time it happens at, and what is to be
 * written with it — the record and the outbox — in the same transaction, at its end.
 */
export class Work {
  private readonly entries: Entry[] = [];
  private readonly events: { clinicId: string; topic: string; payload: Record<string, string> }[] = [];

  constructor(
    readonly tx: Tx,
    readonly actor: Actor,
    readonly now: Date,
    readonly box: SealedBox,
  ) {}

  /** @throws DomainError `person.not-permitted` when the actor's role may not do this. */
  need(permission: Permission): void {
    const { kind } = this.actor;
    if ((roles as readonly string[]).includes(kind) && may(kind as Role, permission)) return;
    throw new DomainError(
      'forbidden',
      'person.not-permitted',
      `As ${kind} you can't do this here; ask a colleague whose role it is.`,
      {
        permission,
        role: kind,
      },
    );
  }

  /** The person who acts. @throws DomainError when it is no person. */
  get personId(): string {
    if (this.actor.personId === null)
      throw new DomainError('forbidden', 'person.needed', 'Only a person can do this.');
    return this.actor.personId;
  }

  /** Adds to the clinic's record what was done. */
  record(entry: Entry): void {
    this.entries.push(entry);
  }

  /** Puts an event into the outbox; the payload holds identifiers only. */
  emit(clinicId: string, topic: string, payload: Record<string, string>): void {
    this.events.push({ clinicId, topic, payload });
  }

  /** Writes the record and the outbox. Last in the transaction, because it holds the clinic's chain until commit. */
  async finish(): Promise<void> {
    for (const { clinicId, topic, payload } of this.events) {
      await this.tx.outboxEvent.create({
        data: { clinicId, id: uuid(), topic, payload, createdAt: this.now },
      });
    }
    if (this.events.length > 0) await this.tx.$executeRaw`select pg_notify('lensferry_outbox', '')`;
    const clinics = [...new Set(this.entries.map((entry) => entry.clinicId))].sort();
    for (const clinicId of clinics) await this.appendTo(clinicId);
  }

  private async appendTo(clinicId: string): Promise<void> {
    await this.tx
      .$executeRaw`insert into audit_head (clinic_id, seq, hash) values (${clinicId}::uuid, 0, ${genesis})
      on conflict (clinic_id) do nothing`;
    const [head] = await this.tx.$queryRaw<{ seq: bigint; hash: string }[]>`
      select seq, hash from audit_head where clinic_id = ${clinicId}::uuid for update`;
    let { seq, hash } = head ?? { seq: 0n, hash: genesis };
    const rows = this.entries
      .filter((entry) => entry.clinicId === clinicId)
      .map((entry) => {
        const row = {
          clinicId,
          seq: ++seq,
          at: this.now,
          actorId: this.actor.personId,
          actorName: this.actor.name,
          actorKind: this.actor.kind,
          action: entry.action,
          caseId: entry.caseId ?? null,
          orderId: entry.orderId ?? null,
          lensId: entry.lensId ?? null,
          facts: (entry.facts ?? {}) as Prisma.InputJsonObject,
          why: entry.why ?? null,
          prev: hash,
        };
        hash = entryHash(row);
        return { ...row, hash };
      });
    await this.tx.auditEntry.createMany({ data: rows });
    await this.tx.auditHead.update({ where: { clinicId }, data: { seq, hash } });
    const moved = rows.map((row) => ({ caseId: row.caseId, orderId: row.orderId, action: row.action }));
    await this.tx
      .$executeRaw`select pg_notify('lensferry_moved', ${JSON.stringify({ clinicId, moved: moved.slice(0, 20) })})`;
  }
}
