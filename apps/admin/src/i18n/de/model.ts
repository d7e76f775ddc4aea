/** Das Vault-Modell, nach dem ein Linsenmodell geht, und seine Änderung durch zwei Menschen. */
export default {
  model: {
    title: 'Die Modelle in Gebrauch',
    note: 'die Verwaltung schlägt vor, die Chirurgie unterschreibt; frühere Pläne und Bestellungen behalten ihres',
    in_use: 'Größen werden nach %{model} vorgeschlagen; einzelne Augen streuen um ± %{spread} µm.',
    propose: {
      learned: 'Vorschlagen, was das Netz gelernt hat',
      former: 'Das frühere Modell wieder vorschlagen',
    },
    propose_consequence:
      'Noch richtet sich nichts danach: Die Zahlen werden aufgehoben, wie sie jetzt stehen, und die Chirurgie unterschreibt oder lässt es.',
    proposed: 'Vorgeschlagen. Die Chirurgie kann unterschreiben.',
    open: {
      learned: '%{by} schlägt vor, was das Netz gelernt hat,',
      former: '%{by} schlägt das frühere Modell wieder vor,',
    },
    waits: 'Es wartet auf die Unterschrift der Chirurgie.',
    sign: 'Die Änderung des Modells unterschreiben',
    sign_consequence:
      'Sie stehen dafür ein: Von jetzt an schlagen neue Pläne dieses Linsenmodells in jeder Klinik Größen danach vor. Frühere Pläne und Bestellungen behalten ihres.',
    signed: 'Unterschrieben. Neue Pläne gehen danach.',
    figure: 'Was das vorgeschlagene Modell ändert: %{design}',
    change: 'Vorhergesagter Vault jetzt um %{before} daneben, mit dem vorgeschlagenen Modell um %{after}',
    basis:
      '%{smart_count} Auge mit einem Vault ab Tag 28, der letzte vom %{day} |||| %{smart_count} Augen mit einem Vault ab Tag 28, der letzte vom %{day}',
    axis: { length: 'Länge der Linse, mm', vault: 'Vault eines mittleren Auges, µm' },
    legend:
      'Ein mittleres Auge bei jeder Länge: Ring und Striche wie jetzt, Quadrat und Linie wie vorgeschlagen; 8 von 10 innerhalb der Linie.',
    how: {
      prequential: 'Jedes Auge wurde aus denen vor ihm vorhergesagt, von einem Modell, das es nicht kannte.',
      'as-it-stands': 'Gerechnet mit dem Modell, wie es ist.',
    },
    length: 'Länge',
    before: 'Wie jetzt',
    after: 'Wie vorgeschlagen',
    range: '%{vault} (%{low} bis %{high})',
    held: 'Vaults innerhalb der %{level}-Grenzen',
    history: 'Versionen dieses Linsenmodells',
    version: 'Version %{version}, ab',
    signed_by: 'Unterschrieben von %{by}, vorgeschlagen von %{proposedBy}: %{why}',
    with_sheet: 'Kam mit seinem Datenblatt.',
  },
};
