/** What the patient's sheet says, in one language; `{…}` are filled in. */
export interface PatientWords {
  readonly title: string;
  readonly eye: Readonly<Record<'OD' | 'OS', string>>;
  readonly what: string;
  readonly whatText: string;
  readonly expect: string;
  readonly sight: string;
  readonly chance: string;
  readonly range: string;
  readonly exact: string;
  readonly not: string;
  readonly nots: readonly string[];
  readonly ask: string;
  readonly askText: string;
  readonly from: string;
  readonly footer: string;
}

const en: PatientWords = {
  title: 'For the patient',
  eye: { OD: 'RIGHT EYE', OS: 'LEFT EYE' },
  what: 'What is planned',
  whatText:
    'A thin lens, made for this eye alone, is placed behind the iris and in front of your own lens. Your own lens stays. The operation takes away most of the error of the eye.',
  expect: 'What you may expect',
  sight: 'Without glasses you will probably see about what you see with glasses today: {acuity}. Not better.',
  chance:
    'Of ten eyes like this one, about {half} come to within half a dioptre of the aim and about {one} to within one dioptre.',
  range: 'Eight in ten such eyes end between {low} and {high}. 0 is exact.',
  exact: 'exact',
  not: 'What nobody can promise',
  nots: [
    'That you will never need glasses. Some error is likely to remain.',
    'That sight stays as sharp as today in every case: about one eye in ten loses a line on the chart.',
    'That the first lens fits. Sometimes it has to be turned, or exchanged for another size.',
    'That the cornea never changes again. The lens does not treat keratoconus.',
    'That all is well without visits. The space behind the lens has to be measured again for years.',
  ],
  ask: 'Ask',
  askText: 'Ask everything you want to know before you decide. There is no hurry.',
  from: 'From plan {number}. “One in ten” is common practice, without a published source. This page replaces no talk with your surgeon.',
  footer:
    'Computed from measurements of this eye; not a medical device. Your surgeon’s judgement comes first.',
};

const de: PatientWords = {
  title: 'Für die Patientin, den Patienten',
  eye: { OD: 'RECHTES AUGE', OS: 'LINKES AUGE' },
  what: 'Was geplant ist',
  whatText:
    'Eine dünne Linse, allein für dieses Auge gemacht, wird hinter die Iris und vor Ihre eigene Linse gesetzt. Ihre eigene Linse bleibt. Die Operation nimmt den größten Teil des Fehlers weg.',
  expect: 'Was Sie erwarten dürfen',
  sight: 'Ohne Brille werden Sie wahrscheinlich etwa so sehen wie heute mit Brille: {acuity}. Nicht besser.',
  chance:
    'Von zehn Augen wie diesem kommen etwa {half} auf eine halbe Dioptrie an das Ziel heran und etwa {one} auf eine Dioptrie.',
  range: 'Acht von zehn solchen Augen enden zwischen {low} und {high}. 0 ist genau.',
  exact: 'genau',
  not: 'Was niemand versprechen kann',
  nots: [
    'Dass Sie nie mehr eine Brille brauchen. Etwas Fehler bleibt wahrscheinlich.',
    'Dass Sie in jedem Fall so scharf sehen wie heute: Etwa eines von zehn Augen verliert eine Zeile auf der Tafel.',
    'Dass die erste Linse passt. Manchmal muss sie gedreht oder gegen eine andere Größe getauscht werden.',
    'Dass sich die Hornhaut nie mehr ändert. Die Linse behandelt den Keratokonus nicht.',
    'Dass ohne Kontrollen alles gut ist. Der Abstand hinter der Linse muss über Jahre immer wieder gemessen werden.',
  ],
  ask: 'Fragen Sie',
  askText: 'Fragen Sie alles, was Sie wissen wollen, bevor Sie sich entscheiden. Es eilt nicht.',
  from: 'Aus Plan {number}. „Eines von zehn“ ist übliche Erfahrung ohne veröffentlichte Quelle. Dieses Blatt ersetzt kein Gespräch mit Ihrer Operateurin, Ihrem Operateur.',
  footer:
    'Berechnet aus Messungen dieses Auges; kein Medizinprodukt. Das Urteil Ihrer Operateurin, Ihres Operateurs geht vor.',
};

export const patientWords: Readonly<Record<'en' | 'de', PatientWords>> = { en, de };

/** A sentence with its gaps filled in. */
export const fill = (sentence: string, gaps: Readonly<Record<string, string | number>>): string =>
  sentence.replaceAll(/\{(\w+)\}/g, (_, name: string) => String(gaps[name] ?? ''));
