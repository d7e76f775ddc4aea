/**
 * Die Ablehnungen des Servers nach ihrem Code. `%{…}` nimmt einen Wert aus den `facts` der Antwort; fehlt er, steht der
 * englische Satz des Servers da.
 */
export default {
  conflict: 'Jemand hat das gerade eben getan; laden Sie neu, um den jetzigen Stand zu sehen.',
  internal: 'Hier ist etwas schiefgegangen und wurde vermerkt; nichts wurde geändert.',
  'database.away':
    'Die Datenbank antwortet gerade nicht; nichts wurde geändert, versuchen Sie es gleich noch einmal.',
  'request.unreadable': 'Die Anfrage ist kein lesbares JSON; prüfen Sie Klammern und Anführungszeichen.',
  'request.forbidden': 'Diese Anfrage ist nicht erlaubt.',
  'request.foreign': 'Diese Anfrage kam nicht aus Lensferry selbst; laden Sie die Seite neu.',
  'request.too-large': 'Die Anfrage ist größer als 1 MB; senden Sie weniger auf einmal.',
  'request.media-type': 'Der Server erwartet JSON.',
  'request.too-many': 'Zu viele Anfragen; warten Sie eine Minute und versuchen Sie es noch einmal.',
  'request.refused': 'Die Anfrage wurde abgelehnt.',
  'route.unknown': 'Unter dieser Adresse gibt es nichts.',
  'route.method': 'Diese Adresse nimmt diese Methode nicht an.',
  'server.busy': 'Gerade nicht bereit; versuchen Sie es gleich noch einmal.',
  'session.needed': 'Melden Sie sich zuerst an.',
  'session.code-needed': 'Geben Sie den Code aus Ihrer Authenticator-App ein.',
  'session.missing': 'Eine solche Sitzung haben Sie nicht; vielleicht ist sie schon beendet.',
  'list.cursor-unreadable':
    'Diese Stelle der Liste ist nicht mehr zu finden; beginnen Sie auf der ersten Seite.',

  'case.missing': 'Einen solchen Fall gibt es an Ihren Kliniken nicht.',
  'case.moved':
    'Jemand hat diesen Fall geändert, seit Sie ihn geöffnet haben; laden Sie neu, um den jetzigen Stand zu sehen.',
  'case.ended': 'Dieser Fall ist beendet; für ihn wird nichts mehr eingetragen.',
  'case.implanted':
    'Eine Linse wurde implantiert; der Fall wird nach der Nachsorge abgeschlossen, nicht zurückgezogen.',
  'case.order-open':
    'Klären Sie zuerst Bestellung %{order}: stornieren Sie sie oder schicken Sie ihre Linse zurück.',
  'case.not-followed-up':
    'Ein Fall wird abgeschlossen, wenn die Linse im Auge ist, nach mindestens einem Besuch und ohne offenen Austausch.',
  'case.exists': 'Für dieses Auge gibt es schon einen Fall: %{code}.',
  'case.surgeon': 'Wählen Sie eine Chirurgin oder einen Chirurgen dieser Klinik.',
  'case.theatre-past':
    'Der Operationstag liegt in der Vergangenheit; wählen Sie heute oder einen späteren Tag.',
  'patient.birth-year': 'Das Geburtsjahr liegt in der Zukunft.',
  'patient.code-name': 'Diesen Decknamen hat hier jemand anders; wählen Sie einen anderen.',
  'patient.no-identity': 'Für diese Person wurde keine Identität eingetragen.',
  'patient.erased':
    'Die Identität dieser Person wurde gelöscht und ist nicht wieder zu haben; der Verlauf sagt, wann und warum.',
  'measurement.missing': 'Eine solche Messung, die noch gilt, gibt es nicht.',
  'measurement.kind': 'Eine Messung wird nur durch eine Messung derselben Art berichtigt.',
  'measurement.future': '%{day} liegt in der Zukunft.',

  'implant.lens-in-eye': 'In diesem Auge ist schon eine Linse; eröffnen Sie zuerst einen Austausch.',
  'implant.before-first': 'Der Austausch kann nicht vor der ersten Operation liegen.',
  'implant.future': 'Der Tag der Operation liegt in der Zukunft.',
  'implant.case-ended': 'Dieser Fall ist beendet.',
  'implant.not-reserved':
    'Diese Linse ist „%{state}“; nur eine angenommene Linse, die für diesen Fall reserviert ist, kann implantiert werden.',
  'implant.other-case':
    'Diese Linse ist für einen anderen Fall reserviert. Halten Sie an und vergleichen Sie.',
  'implant.other-eye': 'Diese Linse wurde für das andere Auge gemacht. Halten Sie an und vergleichen Sie.',
  'implant.other-serial':
    'Die Seriennummer auf der Packung ist nicht die der Linse, die für diesen Fall reserviert ist. Halten Sie an und vergleichen Sie.',
  'implant.before-arrival': 'Die Operation kann nicht vor der Ankunft der Linse liegen.',
  'implant.expired': 'Diese Linse war an jenem Tag schon abgelaufen.',
  'event.not-explanted':
    'Hier ist nichts zu erwägen: Aus diesem Auge wurde keine Linse dieser Operation herausgenommen.',
  'event.considered':
    'Jemand hat für diese Linse schon eine Entscheidung aufgeschrieben; laden Sie neu, um sie zu lesen.',
  'clinic.exists': 'Eine Klinik des Netzes heißt schon so.',
  'clinic.letter':
    'Das Kürzel einer anderen Klinik beginnt mit diesem Buchstaben, und Nummern von Bestellungen beginnen damit; wählen Sie einen anderen ersten Buchstaben.',
  'clinic.zone': 'Das ist keine Zeitzone; schreiben Sie sie wie Europe/Zurich.',
  'network.founded':
    'Dieses Netz hat schon eine Klinik: Eine Administratorin fügt andere hinzu und lädt Leute ein, auf der Seite „Personen“.',
  'network.incomplete': 'Nennen Sie Kürzel, Klinik, Zeitzone, Name und E-Mail der Administratorin.',
  'clinic.missing': 'An jener Klinik arbeiten Sie nicht.',
  'lens.damaged':
    'Ihre Packung kam beschädigt an, also kann niemand sagen, dass sie steril ist: verwerfen Sie sie und bestellen Sie eine andere.',
  'lens.expired': 'Diese Linse ist am %{expiresOn} abgelaufen.',
  'lens.expires-early':
    'Sie läuft früher ab, als das Netz es will; schreiben Sie, warum sie trotzdem genommen wird, oder wählen Sie eine andere.',
  'lens.not-for-order': 'Diese Linse ist nicht, was die Bestellung verlangt: %{wrong} weicht ab.',
  'lens.order-not-open':
    'Vom Regal wird eine Linse für eine Bestellung genommen, die unterschrieben und noch nicht aufgegeben ist; diese steht auf „%{state}“.',
  'lens.nobody-waits':
    'Auf die Linse dieser Bestellung wartet kein Auge mehr: Der Fall ist zu Ende, hat seine Linse oder ging mit einer anderen Bestellung weiter.',
  'lens.owner-same': 'So gehört sie schon; wählen Sie etwas anderes.',
  'parcel.missing': 'Ein solches Paket gibt es an Ihren Kliniken nicht.',
  'parcel.moved': 'Jemand hat diesem Paket einen Platz gegeben, seit Sie es geöffnet haben. Laden Sie neu.',
  'exchange.no-lens': 'In diesem Auge ist keine Linse, die auszutauschen wäre.',
  'exchange.open': 'Für dieses Auge ist schon ein Austausch offen.',
  'exchange.none': 'Für dieses Auge ist kein Austausch offen.',
  'exchange.no-vault': 'Messen Sie zuerst den Vault: Die neue Größe beruht auf ihm.',
  'exchange.order-open': 'Klären Sie zuerst Bestellung %{order}.',

  'plan.measurements-missing': 'Für einen Plan fehlen noch Messungen: %{missing}.',
  'plan.not-computable': 'Aus diesen Messungen lässt sich kein Plan rechnen; prüfen Sie das Feld %{field}.',
  'plan.companion-exchange':
    'Beim Austausch wurde der Vault des Auges selbst gemessen: Bestellen Sie die eine Größe, die er verlangt.',
  'plan.companion-out':
    'Bestellung %{order} der kleineren Linse liegt beim Hersteller; bitten Sie um ihre Stornierung, bevor Sie eine andere planen.',
  'plan.stage': 'Im Auge ist eine Linse; eröffnen Sie einen Austausch, bevor Sie eine andere planen.',
  'plan.lens-here': 'Die bestellte Linse ist da und für dieses Auge reserviert; eine zweite hätte kein Auge.',
  'plan.not-makeable':
    'Diese Linse stellt der Hersteller so nicht her; wählen Sie aus dem, was sein Blatt anbietet.',
  'plan.offset-none': 'Für dieses Auge wird keine Abweichung der Refraktion angeboten.',
  'plan.offset-too-few':
    'Mit einer Abweichung wird erst ab %{least} Augen mit gleichem Gerät, gleicher Klinik und gleicher Achslage geplant; hier sind es %{eyes}.',
  'plan.offset-moved':
    'Inzwischen wurden weitere Augen gemessen, und die Abweichung ist eine andere; sehen Sie den Plan noch einmal an.',

  'order.missing': 'Eine solche Bestellung gibt es an Ihren Kliniken nicht.',
  'order.moved':
    'Jemand hat diese Bestellung weitergeführt, seit Sie sie geöffnet haben; jetzt: %{state}. Laden Sie neu, um weiterzumachen.',
  'order.step-not-allowed':
    'Dieser Schritt ist nicht möglich; die Bestellung steht auf „%{state}“. Laden Sie neu, um den jetzigen Stand zu sehen.',
  'order.step-not-yours': 'Dieser Schritt gehört nicht zu Ihrer Rolle.',
  'order.no-document': 'Das Dokument wird geschrieben, wenn die Bestellung aufgegeben wird.',
  'return.nothing-to-tell':
    'Dem Hersteller dieser Rücksendung ist nichts zu sagen: Er weiß es, erfährt es gerade oder hat geantwortet.',
  'return.told-by-hand':
    'Dieser Hersteller nimmt keine Nachrichten an: Sagen Sie ihm von der Rücksendung und tragen Sie es ein, oder ändern Sie erst den Weg.',
  'order.nothing-to-tell':
    'Dem Hersteller dieser Bestellung ist nichts zu sagen: Er weiß es, erfährt es gerade oder wird nichts gefragt.',
  'order.told-by-hand':
    'Dieser Hersteller nimmt keine Nachrichten an: Schriftstück übergeben und eintragen, oder erst den Weg ändern.',
  'order.not-awaited':
    'Bestellung %{number} liegt nicht beim Hersteller, nach ihr ist nicht zu fragen; lassen Sie sie weg.',
  'order.asked-by-hand':
    '%{maker} nimmt keine Nachrichten an: Fragen Sie am Telefon und tragen Sie dann ein, wie.',
  'order.nothing-to-change':
    'Hier ist nichts zu ändern: Der Hersteller kennt genau diese Linse und diesen Termin. Planen Sie neu oder verlegen Sie die Operation.',
  'order.other-maker':
    'Diese Bestellung liegt bei einem anderen Hersteller; bitten Sie dort um Stornierung, bevor Sie woanders bestellen.',
  'order.change-not-awaited':
    'Auf diese Änderung wird keine Antwort erwartet: Sie wurde schon beantwortet oder überholt; nichts wurde geändert.',
  'order.sent-by-message':
    'Dieser Hersteller nimmt Bestellungen als Nachricht an; sie wird von selbst gesendet.',
  'order.answer-the-change':
    'Eine Änderung dieser Bestellung ist noch nicht beantwortet; tragen Sie ein, ob der Hersteller zustimmt oder ablehnt.',
  'order.unsigned':
    'Keine gültige Unterschrift bindet an diese Spezifikation; zuerst muss die Chirurgie unterschreiben.',
  'order.day-past': 'Dieser Tag liegt in der Vergangenheit; wählen Sie heute oder einen späteren.',
  'order.not-what-was-shown':
    'Die Spezifikation ist nicht die, die Ihnen gezeigt wurde; laden Sie neu und lesen Sie sie noch einmal.',
  'order.reason-needed': 'Wer über ein „Halt“ hinweggeht, schreibt einen Grund dazu.',

  'maker-message.invalid': 'Die Nachricht hat nicht die Form, die das veröffentlichte Schema vorgibt.',
  'maker-message.unknown-number': 'Eine solche Bestellung oder Rückgabe gibt es bei diesem Hersteller nicht.',
  'maker.missing': 'Einen solchen Hersteller gibt es nicht.',
  'maker.moved':
    'Jemand hat diesen Hersteller geändert, seit Sie ihn geöffnet haben; laden Sie neu, um weiterzumachen.',
  'maker.time-zone': 'Diese Zeitzone gibt es nicht; schreiben Sie eine wie Europe/Zurich.',
  'maker.taken':
    'Einen Hersteller mit diesem Namen oder Kürzel gibt es schon (%{code}); wählen Sie etwas anderes.',
  'maker.insecure': 'Nachrichten über ein Netz gehen über https://; schreiben Sie die Adresse so.',
  'design.missing': 'Ein solches Design hat dieser Hersteller nicht.',
  'design.taken': 'Ein Design %{code} gibt es schon; wählen Sie einen anderen Code.',
  'sheet.moved':
    'Dieses Design ist inzwischen bei Fassung %{version}; sehen Sie noch einmal an, was die Datei ändert.',
  'sheet.faults': 'Nichts wurde geändert; berichtigen Sie zuerst die Datei.',
  'sheet.unchanged': 'Die Datei sagt, was das Blatt schon sagt.',
  'sheet.too-early': 'Das Blatt kann nicht rückwirkend gelten; wählen Sie einen späteren Tag.',
  'ledger.period': 'Der Zeitraum endet, bevor er beginnt.',
  'model.sheet-moved':
    'Dieses Design ist inzwischen bei Fassung %{version}; sehen Sie sich sein Modell noch einmal an.',
  'model.sheet-waits':
    'Ein neues Blatt dieses Designs gilt ab %{validFrom}; ändern Sie sein Modell von da an.',
  'model.none': 'Dieses Design hat kein Vault-Modell; lesen Sie eines mit seinem Blatt ein.',
  'model.too-few':
    'Ein Modell wird aus mindestens %{least} Patienten mit allen nötigen Messungen gelernt; hier sind es %{patients}.',
  'model.no-former': 'Keine frühere Fassung ging nach einem anderen Modell.',
  'model.missing': 'Diesen Vorschlag gibt es nicht.',
  'model.not-open':
    'Dieser Vorschlag ist nicht mehr der offene; sehen Sie sich an, was jetzt vorgeschlagen ist.',
  'limit.changed-meanwhile': 'Jemand hat diesen Grenzwert inzwischen gesetzt; sehen Sie ihn noch einmal an.',
  'limit.same': 'Er steht schon auf diesem Wert; geben Sie einen anderen.',
  'limit.not-possible': 'Auf diesen Wert lässt sich dieser Grenzwert nicht setzen.',
  'limit.passes':
    'Er liefe am benachbarten Grenzwert vorbei, möglich ist er bis %{at}: Setzen Sie zuerst jenen oder geben Sie einen anderen Wert.',
  'visits.changed-meanwhile': 'Jemand hat die Besuche inzwischen geändert; sehen Sie sie noch einmal an.',

  'document.lens-unread':
    'Diese Packung wurde nicht ganz gelesen, darum gibt es kein Regaletikett; lesen Sie zuerst die übrigen Felder.',
  'document.no-plan': 'Machen Sie zuerst einen Plan; das Blatt nennt den Bereich, den er erwartet.',
  'document.no-order': 'Planen Sie zuerst eine Linse; das Blatt zeigt, wie sie liegen soll.',
  'document.no-lens': 'In diesem Auge ist keine Linse, also gibt es keine Karte zu drucken.',

  'arrival.short-expiry':
    'Die Linse läuft zu früh ab. Schreiben Sie, warum sie trotzdem angenommen wird, oder legen Sie sie in Quarantäne.',
  'arrival.reason': 'Schreiben Sie, warum die Linse in Quarantäne kommt.',
  'arrival.seen-before':
    'Diese Seriennummer wurde schon einmal gesehen; sehen Sie die Packung noch einmal an.',
  'arrival.incomplete': 'Zum Annehmen fehlen noch Angaben; lesen Sie sie von der Packung ab.',
  'arrival.mismatch': 'Die Packung weicht von der Bestellung ab (%{wrong}); sie kann nur in Quarantäne.',
  'arrival.expired': 'Die Linse ist abgelaufen (%{expiresOn}); sie kann nur in Quarantäne.',
  'label.disagrees': 'Der Code sagt etwas anderes, als getippt wurde; sehen Sie die Packung noch einmal an.',
  'label.empty': 'Es wurde nichts gelesen; scannen Sie noch einmal.',
  'label.too-long': 'Das ist länger als jedes Etikett; scannen Sie nur eine Packung.',
  'label.unknown-scheme':
    'Das ist kein Etikett, das Lensferry kennt; scannen Sie das Symbol mit der Seriennummer.',
  'label.scheme-not-expected':
    'Dieses Symbol wird hier nicht erwartet; scannen Sie das auf der Linsenpackung.',
  'label.character': 'Im Etikett steht ein Zeichen, das dort nicht hingehört; scannen Sie noch einmal.',
  'label.separator': 'Ein Trennzeichen fehlt oder ist zu viel; scannen Sie noch einmal.',
  'label.unknown-element':
    'Das Etikett enthält ein unbekanntes Element; scannen Sie noch einmal oder tippen Sie es mit Klammern.',
  'label.length':
    'Ein Teil des Etiketts hat die falsche Länge; scannen Sie noch einmal mit dem ganzen Symbol im Bild.',
  'label.check-digit':
    'Die Prüfziffer stimmt nicht; scannen Sie noch einmal oder bitten Sie den Hersteller um ein neues Etikett.',
  'label.date':
    'Auf dem Etikett steht ein Tag, den es nicht gibt; scannen Sie noch einmal oder bitten Sie den Hersteller um ein neues Etikett.',
  'label.contradiction':
    'Das Etikett widerspricht sich; legen Sie die Packung in Quarantäne und fragen Sie den Hersteller.',
  'label.not-a-unit':
    'Das ist das Etikett eines Pakets oder einer Schachtel; scannen Sie das auf der Linsenpackung.',
  'label.lens-element':
    'Die Angaben zur Linse auf dem Etikett sind nicht lesbar; scannen Sie noch einmal oder bitten Sie den Hersteller um ein neues Etikett.',
  'label.link':
    'Der Verweis im Symbol ist nicht lesbar; scannen Sie noch einmal oder bitten Sie den Hersteller um ein neues Etikett.',
  'label.value': 'Dieser Wert kann nicht auf ein Etikett geschrieben werden: %{field}.',

  'lens.missing': 'Eine solche Linse gibt es an Ihren Kliniken nicht.',
  'lens.moved':
    'Jemand hat diese Linse weitergeführt, seit Sie sie geöffnet haben; jetzt: %{state}. Laden Sie neu, um weiterzumachen.',
  'lens.step-not-allowed':
    'Dieser Schritt ist nicht möglich; die Linse steht auf „%{state}“. Laden Sie neu, um den jetzigen Stand zu sehen.',
  'lens.step-not-yours': 'Dieser Schritt gehört nicht zu Ihrer Rolle.',
  'lens.not-returnable': 'Diese Linse kann nicht zurückgehen; jetzt: %{state}.',
  'lens.undecided':
    'Über die Quarantäne dieser Bestellung ist noch nicht entschieden: Geben Sie die Linse zuerst frei oder lehnen Sie sie ab.',
  'lens.unread':
    'Von dieser Packung ist noch nicht gelesen: %{unread}; lesen Sie es zuerst, oder lehnen Sie die Linse ab.',
  'lens.not-quarantined': 'Das geht nur mit einer Linse in Quarantäne; jetzt: %{state}.',
  'lens.offered': 'Linse %{serial} ist einer anderen Klinik angeboten; ziehen Sie das Angebot zuerst zurück.',
  'count.missing': 'Eine solche Zählung gibt es an Ihren Kliniken nicht.',
  'count.moved':
    'Jemand hat diese Zählung beendet oder weitere Packungen gelesen, seit Sie sie geöffnet haben. Laden Sie neu.',
  'count.ended': 'Diese Zählung ist zu Ende; beginnen Sie eine neue.',
  'count.open': '%{location} wird schon gezählt, von %{by}; machen Sie mit jener Zählung weiter.',
  'count.no-serial': 'Dieser Code enthält keine Seriennummer; tippen Sie sie von der Packung ab.',
  'count.unexplained': 'Sagen Sie, was die übrigen Abweichungen erklärt: %{serials}.',
  'count.not-a-reason':
    'Das erklärt %{serial} nicht; wählen Sie einen der angebotenen Gründe, mit dem Ort, wo einer nötig ist.',
  'transfer.missing': 'Eine solche Übergabe gibt es an Ihren Kliniken nicht.',
  'transfer.moved':
    'Jemand hat diese Übergabe weitergeführt, seit Sie sie geöffnet haben; jetzt: %{state}. Laden Sie neu.',
  'transfer.other-end': 'Dieser Schritt ist Sache der anderen Klinik.',
  'transfer.not-free':
    'Linse %{serial} lässt sich keiner anderen Klinik anbieten: Sie ist nicht frei, nicht heil, nicht ganz gelesen, abgelaufen oder nicht Ihre eigene.',
  'transfer.same-clinic': 'Wählen Sie eine andere Klinik des Netzes.',
  'transfer.other-clinic': 'Wählen Sie eine Bestellung der Klinik, der die Linse angeboten ist.',
  'transfer.order-not-open':
    'Eine Linse einer anderen Klinik wird für eine Bestellung genommen, die unterschrieben und noch nicht aufgegeben ist; %{number} steht auf „%{state}“.',
  'transfer.not-for-order': 'Linse %{serial} ist nicht, was Bestellung %{number} verlangt: %{wrong}.',
  'transfer.order-waits': 'Für Bestellung %{number} ist schon Linse %{serial} einer anderen Klinik bestimmt.',
  'transfer.other-pack':
    'Die Packung ist nicht, was angeboten wurde (%{wrong}). Weisen Sie sie ab und sagen Sie, warum.',
  'order.lens-on-its-way':
    'Für Bestellung %{number} ist Linse %{serial} einer anderen Klinik genommen; lehnen Sie sie ab oder weisen Sie sie ab, bevor Sie eine neue bestellen.',
  'lens.return-open': 'Für diese Linse ist eine Rückgabe offen; schreiben Sie sie zuerst ab.',
  'lens.other-pack': 'Das ist eine andere Packung: Ihre Seriennummer weicht ab.',
  'lens.read-already': 'Das wurde schon gelesen und bleibt, wie es gelesen wurde.',
  'return.missing': 'Eine solche Rückgabe gibt es an Ihren Kliniken nicht.',
  'return.moved':
    'Jemand hat diese Rückgabe weitergeführt, seit Sie sie geöffnet haben; jetzt: %{state}. Laden Sie neu, um weiterzumachen.',
  'return.step-not-allowed':
    'Dieser Schritt ist nicht möglich; die Rückgabe steht auf „%{state}“. Laden Sie neu, um den jetzigen Stand zu sehen.',
  'return.step-not-yours': 'Dieser Schritt gehört nicht zu Ihrer Rolle.',
  'return.open': 'Für diese Linse ist schon eine Rückgabe offen.',
  'return.currency': 'Diese Rückgabe lautet auf eine andere Währung.',

  'clinic.not-yours': 'Eine solche Klinik ist nicht unter Ihren; wählen Sie eine Ihrer Kliniken.',
  'invitation.missing': 'Eine solche offene Einladung gibt es nicht.',
  'invitation.ended':
    'Dieser Link wurde benutzt oder ist abgelaufen; bitten Sie Ihre Administration um einen neuen.',
  'person.missing': 'Eine solche Person gibt es an Ihren Kliniken nicht.',
  'person.password': 'Das ist nicht Ihr Passwort; nichts wurde unterschrieben oder geändert.',
  'person.weak-password':
    'Dieses Passwort ist zu leicht zu erraten; nehmen Sie mindestens 12 Zeichen, keinen Namen, keine Tastenreihe und kein gängiges Wort.',
  'person.code': 'Dieser Code stimmt nicht oder wurde schon benutzt; warten Sie auf den nächsten.',
  'person.second-factor-on':
    'Der zweite Faktor ist eingerichtet oder wird gerade nicht eingerichtet; beginnen Sie von vorn.',
  'person.second-factor-required':
    'In Ihrer Rolle brauchen Sie einen zweiten Faktor; ist der Authenticator verloren, kann die Administration ihn zurücksetzen.',
  'person.second-factor-needed':
    'In Ihrer Rolle brauchen Sie einen zweiten Faktor; richten Sie ihn zuerst unter „Mein Konto“ ein.',
  'person.not-permitted': 'In Ihrer Rolle geht das hier nicht; fragen Sie jemanden, dessen Aufgabe es ist.',
  'person.needed': 'Das kann nur ein Mensch tun.',
  'person.exists': 'Diese E-Mail-Adresse hat schon jemand.',
  'person.left-already': 'Diese Person ist schon ausgeschieden.',
  'person.here': 'Diese Person ist nicht ausgeschieden.',
  'person.elsewhere-too':
    'Diese Person arbeitet auch an einer Klinik, die nicht Ihre ist; fragen Sie deren Administration.',
  'person.last-administrator':
    'Das ist die letzte Person mit Administration; ernennen Sie zuerst eine andere.',

  'input.invalid': 'Etwas ist nicht richtig ausgefüllt; sehen Sie die bezeichneten Felder an.',
  'input.unstorable':
    'In diesem Text steht ein Zeichen, das nicht gespeichert werden kann; tippen Sie ihn neu.',
} satisfies Record<string, string>;
