import type { Work } from '../platform/work.js';

/** What is known of a serial: nothing, a unit at one's own clinics, or that another clinic of the network has it. */
export type Seen =
  | { readonly where: 'nowhere' }
  | { readonly where: 'here'; readonly state: string; readonly orderId: string }
  | { readonly where: 'elsewhere' };

/**
 * Looks a serial up in the whole network without telling anything of another clinic.
 * @param makerId null while the maker is not known: then any maker's serial counts.
 */
export async function seenBefore({ tx }: Work, serial: string, makerId: string | null): Promise<Seen> {
  const own = await tx.lensUnit.findFirst({ where: { serial, ...(makerId === null ? {} : { makerId }) } });
  if (own !== null) return { where: 'here', state: own.state, orderId: own.orderId };
  const [row] = await tx.$queryRaw<
    { known: boolean }[]
  >`select serial_known(${serial}, ${makerId}::uuid) as known`;
  return { where: row?.known === true ? 'elsewhere' : 'nowhere' };
}

/** The sentence for a serial that is on record already. */
export const seenSentence = (serial: string, seen: Exclude<Seen, { where: 'nowhere' }>): string =>
  seen.where === 'here'
    ? `Serial ${serial} is already on record here: ${seen.state.replaceAll('_', ' ')}. Don't take it in twice; look it up on the shelf.`
    : `Serial ${serial} is already on record at another clinic of the network. Keep the parcel apart, don't use it, and ask its maker and your network's administrator.`;
