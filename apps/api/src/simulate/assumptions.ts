/**
 * What the simulated world is like. All of it is assumed, none of it measured: shares and spreads are own choices
 * without a source unless one is named. The report prints them beside every figure that rests on them.
 */
export const assumptions = {
  /** New eyes a week at each of the three clinics. */
  eyesAWeek: 2,
  /** Shares of what goes wrong, of all orders. */
  declined: 0.04,
  /** The maker has the order and forgets it; nobody hears of it until somebody asks. */
  forgotten: 0.02,
  sendFails: 0.03,
  damagedPack: 0.03,
  /** Trouble in making: so many working days more. */
  troubled: 0.06,
  troubleDays: [8, 25] as const,
  /** A maker that knows it will be late says so this often. */
  warnsWhenLate: 0.6,
  /** Working days from a lens's dispatch to its arrival. */
  transitDays: 2,
  withdrawn: 0.02,
  /** Makers close for these two fortnights of every year, month and day. */
  closures: [
    ['08-03', '08-14'],
    ['12-24', '12-31'],
  ] as const,
  /** Vault of one eye around the published regression: 95 % limits of ±345 µm (PMC9714062) are an SD of 176 µm. */
  eyeVaultSdUm: 176,
  /** One vault reading around the eye's own. */
  vaultReadingSdUm: 25,
  /** A lens of another size in the same eye: around the difference that the regression gives. */
  exchangeVaultSdUm: 60,
  /** From here to here nobody exchanges a lens for its vault; the same rule for the tool and the habit. */
  keepFromUm: 100,
  keepToUm: 1000,
  /** The naive rule: white-to-white plus this, to the nearest size that the maker has (common practice, no source). */
  naiveAddMm: 0.5,
  /** The clinic wants a lens so many working days before theatre, by either way of ordering. */
  handlingDays: 1,
} as const;

/** The assumptions in words, for the report. */
export function assumptionsInWords(): string[] {
  const percent = (share: number): string => `${Math.round(share * 100)} %`;
  const a = assumptions;
  return [
    `${a.eyesAWeek} new eyes a week at each of three clinics; four makers with the demo's ranges and quoted times.`,
    `Lead times: quoted working days times each maker's own pace, log-normal, ${percent(a.troubled)} with ${a.troubleDays.join(' to ')} working days of trouble; makers close ${a.closures.map((days) => days.join(' to ')).join(' and ')}.`,
    `${percent(a.declined)} of orders declined, ${percent(a.forgotten)} forgotten by the maker, ${percent(a.sendFails)} not sent at the first try, ${percent(a.damagedPack)} arrive damaged, ${percent(a.withdrawn)} of eyes withdrawn.`,
    `True vault: published regression (BMC Ophthalmol 2021;21:199) plus an eye's own deviation, SD ${a.eyeVaultSdUm} µm (PMC9714062); a lens is exchanged when its vault at one month is below ${a.keepFromUm} or above ${a.keepToUm} µm.`,
    `Plain habit: the same eyes, makers and true lead times; theatre on the day after the quoted time is over; size by white-to-white + ${a.naiveAddMm} mm.`,
    'The tool: theatre on the first day with a chance of 95 %; size as suggested. A theatre date counts as missed when the lens is not accepted and on the shelf that day.',
  ];
}
