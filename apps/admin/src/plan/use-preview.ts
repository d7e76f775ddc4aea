import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useDataProvider } from 'react-admin';
import type { PlanResult, SpheroCylinder } from '@lensferry/contracts';
import type { LensferryDataProvider } from '../providers/data-provider';

/** The plan as the server computes it for a target; nothing is recorded. */
export function usePreview(
  caseId: string,
  version: number,
  { target, withOffset }: { target: SpheroCylinder; withOffset: boolean },
) {
  const data = useDataProvider<LensferryDataProvider>();
  return useQuery<PlanResult>({
    queryKey: ['preview', caseId, version, target, withOffset],
    queryFn: () => data.take<PlanResult>(`/cases/${caseId}/plan-preview`, { target, withOffset }),
    placeholderData: keepPreviousData,
  });
}
