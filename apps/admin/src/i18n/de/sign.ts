/** Reading and signing. */
export default {
  sign: {
    title: 'Lesen und unterschreiben',
    not_now: 'Hier gibt es jetzt nichts zu unterschreiben',
    as: 'Als %{name} unterschreiben',
    change_done: 'Unterschrieben. Der Hersteller wird um die Änderung gebeten.',
    done: 'Unterschrieben. Die Bestellung kann aufgegeben werden.',
    password: 'Ihr Passwort, noch einmal',
    password_hint: 'Es macht dies zu Ihrer Unterschrift.',
    why_over: 'Warum Sie darüber hinweggehen',
    over_stop: 'Über das Halt %{code}: %{why}',
    hash: 'Die Unterschrift bindet sich an genau diese Spezifikation.',
    signatures: 'Unterschriften',
    valid: 'gültig',
    void: 'ungültig',
  },
};
