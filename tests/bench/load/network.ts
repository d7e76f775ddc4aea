import { openHouse, type House } from '../../support/house.js';
import { copyScenes } from '../../support/copied-scenes.js';
import { implant, sceneAt } from '../../support/scenes.js';
import { asSuperuser, type Superuser } from '../../support/superuser.js';

const clinics = ['EST', 'NOR', 'HAR'] as const;
const makers = ['QUILLON', 'OSTREL', 'FENNICK'] as const;
/** One order in four hundred is still under way. */
const openStates = ['draft', 'submitted', 'sent', 'acknowledged', 'shipped'] as const;
const openShare = 1 / 400;

export interface Load {
  readonly house: House;
  readonly db: Superuser;
  readonly orders: number;
  readonly seconds: number;
  /** A case with all its parts, whose lens is in the eye. */
  readonly caseId: string;
  close(): Promise<void>;
}

/** A network of three clinics with so many orders of six years, each with its patient, case, plan and lens. */
export async function loadNetwork(wanted: number): Promise<Load> {
  const house = await openHouse();
  const open: string[] = [];
  const ended: string[] = [];
  let caseId = '';
  for (const clinic of clinics) {
    for (const state of openStates) open.push((await sceneAt(house, state, { clinic })).orderId);
    for (const maker of makers) {
      const scene = await sceneAt(house, 'accepted', { clinic, maker });
      await implant(scene);
      if (clinic === 'EST') caseId = scene.caseId;
      ended.push(scene.orderId);
    }
    ended.push((await sceneAt(house, 'declined', { clinic })).orderId);
  }
  const db = await asSuperuser(house.db);
  const from = performance.now();
  await copyScenes(db, {
    orderIds: open,
    each: Math.round((wanted * openShare) / open.length),
    ended: false,
  });
  await copyScenes(db, {
    orderIds: ended,
    each: Math.ceil((wanted * (1 - openShare)) / ended.length),
    ended: true,
  });
  await db.rows('vacuum analyze');
  const seconds = (performance.now() - from) / 1000;
  const [count] = await db.rows<{ n: number }>('select count(*)::int as n from lens_order');
  return {
    house,
    db,
    orders: count!.n,
    seconds,
    caseId,
    async close() {
      await db.close();
      await house.close();
    },
  };
}
