/** A learned offset of refraction beside a plan. */
export default {
  offset: {
    title: 'What eyes like this one taught',
    note: 'offered, not used unless a surgeon says so',
    of: 'Refractions by %{device} at %{clinic}, axis %{axis}: achieved less predicted, with 95 % limits.',
    behind:
      'One eye of these is behind it, %{eyes} in all. |||| %{smart_count} eyes of these are behind it, %{eyes} in all.',
    from: 'Refraction to plan from',
    too_few: 'Planned with from %{least} eyes of these on.',
    surgeon: 'A surgeon can choose to plan with it.',
    use: 'Plan with this offset',
    why: 'Why with the learned offset',
    why_hint: 'Kept with the plan; the signature says that an offset was used.',
    not_this_time: 'The last plan was made with a learned offset; this one is not.',
    planned_with: 'Learned offset',
    parts:
      'mean power %{mean}, J0 %{j0}, J45 %{j45}, from one eye. |||| mean power %{mean}, J0 %{j0}, J45 %{j45}, from %{smart_count} eyes.',
  },
};
