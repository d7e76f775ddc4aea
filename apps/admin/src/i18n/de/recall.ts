/** Rückrufe nach Charge oder Design. */
export default {
  recall: {
    title: 'Rückruf',
    lead: 'Jede Linse einer Charge oder eines Designs an Ihren Kliniken, und die Augen, in denen sie ist oder für die sie gedacht war.',
    lot: 'Charge',
    designCode: 'Code des Designs',
    hint: 'Wie es in der Mitteilung des Herstellers steht: eine Charge, ein Design oder eine Charge eines Designs.',
    find: 'Linsen suchen',
    none: 'Keine solche Linse an Ihren Kliniken',
    none_hint:
      'Prüfen Sie die Charge an der Mitteilung des Herstellers, und fragen Sie die anderen Kliniken des Netzes.',
    found: 'Eine Linse. |||| %{smart_count} Linsen.',
    in_eyes: 'Jetzt in einem Auge. |||| Jetzt in %{smart_count} Augen.',
    eyes: 'Betroffene Augen',
    lenses: 'Die Linsen',
    in_eye: 'jetzt im Auge',
    not_in_eye: 'nicht im Auge',
  },
};
