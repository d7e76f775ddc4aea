/** What makers charged and credited. */
export default {
  ledger: {
    lead: 'What each maker charged and credited, and which credits are still missing. Payments are not kept here.',
    export: 'Keep as a table (CSV)',
    open: 'Ledger',
    narrow: 'Narrow the ledger',
    filter: { makerId: 'Maker', clinicId: 'Clinic', from: 'From', to: 'Until' },
    any: { makerId: 'All makers', clinicId: 'All clinics' },
    none_hint: 'An order appears here when its maker ships it, a return when it is started.',
    outstanding: 'Credits still to come',
    outstanding_note: 'by the days since the return was opened',
    oldest:
      'still to come, the oldest for %{smart_count} day |||| still to come, the oldest for %{smart_count} days',
    nothing_open: 'No credit is awaited.',
    returns: '%{smart_count} return |||| %{smart_count} returns',
    age: { to30: 'up to 30 days', to60: '31 to 60 days', to90: '61 to 90 days', over90: 'over 90 days' },
    entries: 'Entries',
    number: 'Order or return',
    kind_head: 'What it is',
    day: 'Day',
    kind: {
      order: 'order',
      exchange: 'order for an exchange',
      open: 'return, credit awaited',
      credited: 'return credited',
      written_off: 'return written off',
    },
    column: {
      charged: 'Charged',
      expected: 'Expected',
      credited: 'Credited',
      difference: 'Credited less expected',
      writtenOff: 'Written off',
      balance: 'Charged less credited',
    },
  },
};
