import { day } from './eye.js';
import type { House, Person } from './house.js';
import { as, exchangeLens, failTelling, implant, sceneAt, type Scene } from './scenes.js';
import { addMeasurement } from '../../apps/api/dist/cases/measure.js';

/** A page whose dialogs are opened one after the other. */
export interface DialogPage {
  readonly path: string;
  /** What opens them, as a CSS selector. */
  readonly openers: string;
  /** What has to be pressed first so that they are there. */
  readonly before?: string;
  /** The source files of the dialogs that are seen there. */
  readonly files: readonly string[];
}

const steps = 'main a[href*="do="]';

/** Every page with a dialog on it, by who sits there, each on an eye that is so far. */
export async function dialogPages(house: House): Promise<Record<string, DialogPage[]>> {
  const oona = await house.signIn('oona');
  const scene = {
    draft: await sceneAt(house, 'draft'),
    submitted: await sceneAt(house, 'submitted'),
    approved: await sceneAt(house, 'approved'),
    byHand: await sceneAt(house, 'acknowledged', { maker: 'FENNICK' }),
    cancelling: await sceneAt(house, 'cancel_requested'),
    proposed: await sceneAt(house, 'change_proposed'),
    failed: await sceneAt(house, 'send_failed'),
    quarantined: await sceneAt(house, 'quarantined'),
    accepted: await sceneAt(house, 'accepted'),
    rejected: await sceneAt(house, 'rejected'),
    inEye: await sceneAt(house, 'accepted'),
    exchanged: await sceneAt(house, 'accepted'),
  };
  await failTelling(scene.cancelling, 'cancellation', 'The maker answered 410.');
  await implant(scene.inEye);
  await tooHigh(scene.inEye);
  await implant(scene.exchanged);
  await exchangeLens(scene.exchanged);
  await oona.post('/api/parcels', {
    label: { text: '', serial: 'NOBODYS-1' },
    location: 'box 2',
    note: 'No order names it.',
    clinicId: scene.draft.clinic.id,
  });
  const returns = await oona.get<{ items: { id: string }[] }>('/api/returns');
  const makers = await oona.get<{ items: { id: string; channel: string }[] }>('/api/makers');
  const maker = makers.body.items.find(({ channel }) => channel === 'https')!.id;
  const order = ({ orderId }: Scene, files = ['orders/OrderDialogs.tsx']): DialogPage => ({
    path: `/orders/${orderId}`,
    openers: steps,
    files,
  });
  const ofCase = ({ caseId }: Scene): DialogPage => ({
    path: `/cases/${caseId}`,
    openers: `main a[href^="/cases/"][href*="do="]`,
    files: ['cases/CaseDialogs.tsx'],
  });
  return {
    una: [
      {
        path: '/',
        openers: '.find, .frame__top button:not([aria-expanded])',
        files: ['frame/CommandPalette.tsx'],
      },
      ofCase(scene.accepted),
      ofCase(scene.exchanged),
      ofCase(scene.inEye),
      order(scene.draft),
      order(scene.approved),
      order(scene.byHand),
      order(scene.failed),
      order(scene.proposed),
      order(scene.cancelling),
      {
        path: `/orders/${scene.cancelling.orderId}`,
        openers: 'main .note button',
        files: ['shared/parts/TellMaker.tsx'],
      },
      {
        path: `/orders/${scene.byHand.orderId}`,
        openers: 'main p.steps button',
        files: ['orders/AskMakersDialog.tsx'],
      },
    ],
    ilse: [
      {
        path: '/limits',
        openers: 'main .limits li:first-child button',
        files: ['limits/SetLimitDialog.tsx'],
      },
      order(scene.submitted),
      ofCase(scene.accepted),
      ofCase(scene.inEye),
      {
        path: `/lenses/${scene.quarantined.lensId}`,
        openers: '.lens-steps button',
        files: ['shelf/LensActions.tsx'],
      },
    ],
    oona: [
      {
        path: `/lenses/${scene.quarantined.lensId}`,
        openers: '.lens-steps button',
        files: ['shelf/LensActions.tsx'],
      },
      {
        path: `/returns/${returns.body.items[0]!.id}`,
        openers: '.order__side button:not(.button--text)',
        files: ['returns/ReturnSteps.tsx'],
      },
      {
        path: '/arrivals',
        openers: 'main li .steps button',
        files: ['arrivals/UnexpectedParcels.tsx'],
      },
      ...(await freeLenses(house, oona)),
    ],
    ada: [
      {
        path: '/outcomes/learning',
        openers: 'article .steps button',
        files: ['outcomes/VaultModels.tsx', 'outcomes/ProposedModel.tsx'],
      },
      { path: '/makers', openers: '.page__head button', files: ['makers/AddMakerDialog.tsx'] },
      {
        path: `/makers/${maker}`,
        openers: '.page__head button, .grid-cards button',
        files: [
          'makers/EditMakerDialog.tsx',
          'makers/SecretDialog.tsx',
          'makers/AddDesignDialog.tsx',
          'makers/SheetDialog.tsx',
        ],
      },
      {
        path: '/people',
        before: 'details.account-actions summary',
        openers: 'details.account-actions[open] button',
        files: ['people/AccountActions.tsx'],
      },
    ],
  };
}

/** A vault far above the band, measured today. */
async function tooHigh({ cast, clinic, caseId }: Scene): Promise<void> {
  await as(cast, clinic, 'coordinator', (work) =>
    addMeasurement(work, caseId, {
      kind: 'vault',
      takenOn: day(0),
      device: 'optical section',
      values: { vaultUm: 1150, lighting: 'bright' },
    } as never),
  );
}

/** A lens that was freed, a signed order which it fits, and another one that is offered to other clinics. */
async function freeLenses(house: House, oona: Person): Promise<DialogPage[]> {
  const why = 'The test asks for it.';
  const move = async ({ lensId }: Scene, step: string) => {
    const { body } = await oona.get<{ version: number }>(`/api/lenses/${lensId}`);
    const { status } = await oona.post(`/api/lenses/${lensId}/${step}`, { version: body.version, why });
    if (status >= 300) throw new Error(`${step} was answered with ${status}.`);
  };
  const freed = await sceneAt(house, 'accepted');
  const offered = await sceneAt(house, 'accepted');
  await move(freed, 'unreserve');
  await move(offered, 'unreserve');
  await move(offered, 'offer');
  const { orderId, clinic } = await sceneAt(house, 'approved');
  const begun = { clinicId: clinic.id, location: 'shelf 1' };
  const { body: count } = await oona.post<{ id: string }>('/api/stock-counts', begun);
  return [
    {
      path: `/lenses/counts/${count.id}`,
      openers: 'main .steps .button--text',
      files: ['shelf/CountPage.tsx'],
    },
    { path: `/orders/${orderId}`, openers: 'main ul.rows button', files: ['orders/FittingLens.tsx'] },
    {
      path: `/lenses/${freed.lensId}`,
      openers: '.lens-steps button',
      files: ['shelf/LensActions.tsx', 'shelf/OfferDialog.tsx'],
    },
    { path: '/lenses/between', openers: 'main li button', files: ['shelf/TransferDialog.tsx'] },
  ];
}
