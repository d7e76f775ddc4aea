/** Eine gelernte Abweichung der Refraktion neben einem Plan. */
export default {
  offset: {
    title: 'Was Augen wie dieses gelehrt haben',
    note: 'angeboten, nur benutzt, wenn die Chirurgie es sagt',
    of: 'Refraktionen mit %{device} in %{clinic}, Achse %{axis}: erreicht weniger vorhergesagt, mit 95-%-Grenzen.',
    behind:
      'Ein solches Auge steht dahinter, %{eyes} insgesamt. |||| %{smart_count} solche Augen stehen dahinter, %{eyes} insgesamt.',
    from: 'Refraktion, von der geplant würde',
    too_few: 'Damit geplant wird erst ab %{least} solchen Augen.',
    surgeon: 'Die Chirurgie kann damit planen.',
    use: 'Mit dieser Abweichung planen',
    why: 'Warum mit der gelernten Abweichung',
    why_hint: 'Bleibt beim Plan; die Unterschrift sagt, dass eine Abweichung benutzt wurde.',
    not_this_time: 'Der letzte Plan ging von einer gelernten Abweichung aus; dieser nicht.',
    planned_with: 'Gelernte Abweichung',
    parts:
      'mittlere Stärke %{mean}, J0 %{j0}, J45 %{j45}, aus einem Auge. |||| mittlere Stärke %{mean}, J0 %{j0}, J45 %{j45}, aus %{smart_count} Augen.',
  },
};
