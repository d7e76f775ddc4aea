/** The vault model that a design goes by, and its change by two people. */
export default {
  model: {
    title: 'The models in use',
    note: 'an administrator proposes, a surgeon signs; plans and orders made before keep theirs',
    in_use: 'Sizes are suggested by %{model}; the spread of single eyes is ± %{spread} µm.',
    propose: { learned: 'Propose what the network has learned', former: 'Propose the former model again' },
    propose_consequence:
      'Nothing goes by it yet: its figures are kept as they stand now, and a surgeon signs it or lets it be.',
    proposed: 'Proposed. A surgeon can sign it.',
    open: {
      learned: '%{by} proposes what the network has learned,',
      former: '%{by} proposes the former model again,',
    },
    waits: 'It waits for a surgeon’s signature.',
    sign: 'Sign the change of the model',
    sign_consequence:
      'You answer for it: from now on new plans of this design, in every clinic, suggest sizes by this model. Plans and orders made before keep theirs.',
    signed: 'Signed. New plans go by it.',
    figure: 'What the proposed model changes: %{design}',
    change: 'Predicted vault off by %{before} as now, by %{after} with the proposed model',
    basis:
      '%{smart_count} eye with a vault from day 28 on, the latest of %{day} |||| %{smart_count} eyes with a vault from day 28 on, the latest of %{day}',
    axis: { length: 'length of the lens, mm', vault: 'vault of an average eye, µm' },
    legend:
      'An average eye at each length: ring and dashes as now, square and solid line as proposed; 8 in 10 within the line.',
    how: {
      prequential: 'Each eye was predicted from those before it, by a model that did not know it.',
      'as-it-stands': 'Reckoned with the model as it stands.',
    },
    length: 'Length',
    before: 'As now',
    after: 'As proposed',
    range: '%{vault} (%{low} to %{high})',
    held: 'Vaults within the %{level} limits',
    history: 'Versions of this design',
    version: 'Version %{version}, from',
    signed_by: 'Signed by %{by}, proposed by %{proposedBy}: %{why}',
    with_sheet: 'Came with its sheet.',
  },
};
