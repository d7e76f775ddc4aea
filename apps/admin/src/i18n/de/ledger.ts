/** What makers charged and credited. */
export default {
  ledger: {
    lead: 'Was jeder Hersteller berechnet und gutgeschrieben hat und welche Gutschriften fehlen. Zahlungen stehen hier nicht.',
    export: 'Als Tabelle behalten (CSV)',
    open: 'Konto',
    narrow: 'Konten eingrenzen',
    filter: { makerId: 'Hersteller', clinicId: 'Klinik', from: 'Von', to: 'Bis' },
    any: { makerId: 'Alle Hersteller', clinicId: 'Alle Kliniken' },
    none_hint:
      'Eine Bestellung erscheint hier, wenn ihr Hersteller sie verschickt, eine Rücksendung, wenn sie beginnt.',
    outstanding: 'Ausstehende Gutschriften',
    outstanding_note: 'nach Tagen seit Beginn der Rücksendung',
    oldest:
      'stehen aus, am längsten seit %{smart_count} Tag |||| stehen aus, am längsten seit %{smart_count} Tagen',
    nothing_open: 'Keine Gutschrift steht aus.',
    returns: '%{smart_count} Rücksendung |||| %{smart_count} Rücksendungen',
    age: { to30: 'bis 30 Tage', to60: '31 bis 60 Tage', to90: '61 bis 90 Tage', over90: 'über 90 Tage' },
    entries: 'Posten',
    number: 'Bestellung oder Rücksendung',
    kind_head: 'Art',
    day: 'Tag',
    kind: {
      order: 'Bestellung',
      exchange: 'Bestellung zum Austausch',
      open: 'Rücksendung, Gutschrift erwartet',
      credited: 'Rücksendung gutgeschrieben',
      written_off: 'Rücksendung abgeschrieben',
    },
    column: {
      charged: 'Berechnet',
      expected: 'Erwartet',
      credited: 'Gutgeschrieben',
      difference: 'Gutgeschrieben weniger erwartet',
      writtenOff: 'Abgeschrieben',
      balance: 'Berechnet weniger gutgeschrieben',
    },
  },
};
