/** Was die Regeln der Eignung sagen, nach Code und Satz; `%{…}` sind die Werte, die der Server mitgibt. */
export default {
  'stable-since': {
    none: 'Kein stabilisierender Eingriff ist eingetragen. Tragen Sie ihn ein, oder vermerken Sie, warum die Hornhaut als stabil gilt.',
    stop: 'Erst %{months} Monate seit dem stabilisierenden Eingriff; mindestens %{least} werden verlangt. Warten Sie und messen Sie neu.',
    caution: '%{months} Monate seit dem stabilisierenden Eingriff; besser sind %{preferred}.',
    fine: '%{months} Monate seit dem stabilisierenden Eingriff.',
  },
  'refractions-agree': {
    one: 'Nur eine Refraktion. Wiederholen Sie sie an einem anderen Tag: Beim Keratokonus ist der Endpunkt nicht scharf.',
    caution:
      'Die letzten zwei Refraktionen (%{before} und %{used}) unterscheiden sich um %{blur} dpt Unschärfe, mehr als 1,00 dpt. Die spätere gilt, nichts wird gemittelt; wiederholen Sie sie.',
    fine: 'Die letzten zwei Refraktionen (%{before} und %{used}) unterscheiden sich um %{blur} dpt Unschärfe.',
  },
  'axis-agreement': {
    caution:
      'Die Achse der Refraktion (%{refraction}°) und der flache Meridian der Hornhaut (%{cornea}°) weichen um %{gap}° voneinander ab. Beide bleiben stehen, nichts wird gemittelt: Entscheiden Sie, welchem Sie trauen.',
    fine: 'Die Achse der Refraktion (%{refraction}°) und der flache Meridian der Hornhaut (%{cornea}°) weichen um %{gap}° voneinander ab.',
  },
  'spectacle-acuity': {
    none: 'Die Sehschärfe mit Brille ist nicht eingetragen. Etwa so viel wird das Auge nachher ohne Hilfe sehen.',
    stop: 'Die Sehschärfe mit Brille ist %{acuity}; etwa so viel wird das Auge nachher ohne Hilfe sehen, nicht mehr. Unter %{limit} kommen andere Wege der Rehabilitation zuerst.',
    caution:
      'Die Sehschärfe mit Brille ist %{acuity}, unter %{limit}; etwa so viel wird das Auge nachher ohne Hilfe sehen, nicht mehr.',
    fine: 'Die Sehschärfe mit Brille ist %{acuity}; etwa so viel wird das Auge nachher ohne Hilfe sehen, nicht mehr.',
  },
  'rigid-lens-wear': {
    unknown:
      'Trägt formstabile, Skleral- oder Hybridlinsen. Tragen Sie die Sehschärfe damit ein, um zu sehen, was verloren ginge.',
    caution:
      'Sieht mit Kontaktlinsen %{lines} Zeile(n) mehr als mit Brille; diese Linse gibt, was die Brille gibt.',
    fine: 'Sieht mit Brille so gut wie mit formstabilen Linsen.',
  },
  'cone-place': {
    caution:
      'Der Kegel liegt %{distance} mm neben der Mitte. Kein Hindernis, solange die Sehschärfe mit Brille gut ist, aber unregelmäßige Unschärfe wird bleiben.',
    fine: 'Der Kegel liegt %{distance} mm von der Mitte.',
  },
  kmax: { caution: 'Kmax ist %{kmax} dpt, %{limit} dpt oder mehr.', fine: 'Kmax ist %{kmax} dpt.' },
  depth: {
    stop: 'Die Tiefe ab Endothel ist %{depth} mm, unter %{limit} mm.',
    caution: 'Die Tiefe ab Endothel ist %{depth} mm, unter %{limit} mm.',
    fine: 'Die Tiefe ab Endothel ist %{depth} mm.',
  },
  endothelium: {
    caution: 'Die Endothelzellen wurden nicht gezählt.',
    stop: '%{cells} Endothelzellen je mm², unter der Grenze von %{floor} mit %{age} Jahren.',
    fine: '%{cells} Endothelzellen je mm²; die Grenze mit %{age} Jahren ist %{floor}.',
  },
  angle: {
    caution: 'Der Kammerwinkel wurde nicht beurteilt.',
    stop: 'Kammerwinkel Grad %{grade}; verlangt wird ein offener Winkel (3 oder mehr).',
    fine: 'Kammerwinkel Grad %{grade}: offen.',
  },
  age: {
    stop: 'Wird dieses Jahr %{age}; verlangt werden mindestens %{least} Jahre.',
    caution: 'Wird dieses Jahr %{age}; prüfen Sie den Geburtstag.',
  },
  pregnancy: {
    stop: 'Schwanger: Die Refraktion ändert sich; warten Sie bis nach der Stillzeit.',
    caution: 'Nach einer Schwangerschaft wurde nicht gefragt.',
  },
  'measurements-fresh': {
    caution:
      'Die älteste verwendete Messung ist %{age} Tage alt (%{oldest}); nach %{limit} Tagen wird neu gemessen.',
    fine: 'Alle verwendeten Messungen sind höchstens %{age} Tage alt.',
  },
  'lens-wear-before': {
    caution:
      'Die Hornhaut wurde %{days} Tage nach der letzten Kontaktlinse gemessen; verlangt werden %{asked}, sonst ist ihre Form noch die der Linse.',
    fine: 'Die Hornhaut wurde %{days} Tage nach der letzten Kontaktlinse gemessen.',
  },
};
