/** Recalls by lot or design. */
export default {
  recall: {
    title: 'Recall',
    lead: 'Every lens of a lot or a design at your clinics, and the eyes that it is in or was meant for.',
    lot: 'Lot',
    designCode: 'Code of the design',
    hint: 'As the maker’s notice says it: a lot, a design, or a lot of a design.',
    find: 'Find the lenses',
    none: 'No such lens at your clinics',
    none_hint: 'Check the lot against the maker’s notice, and ask the other clinics of the network.',
    found: 'One lens. |||| %{smart_count} lenses.',
    in_eyes: 'In one eye now. |||| In %{smart_count} eyes now.',
    eyes: 'Eyes affected',
    lenses: 'The lenses',
    in_eye: 'in the eye now',
    not_in_eye: 'not in the eye',
  },
};
