import { useResetErrorBoundaryOnLocationChange } from 'react-admin';
import { Broken } from './Broken';

interface Props {
  error: Error;
  resetErrorBoundary: (parameters: unknown) => void;
}

/** In place of everything, where even the frame around the pages broke. */
export function ErrorPage({ error, resetErrorBoundary }: Props) {
  const again = () => resetErrorBoundary(undefined);
  useResetErrorBoundaryOnLocationChange(again);
  return (
    <main className="frame__main">
      <Broken error={error} again={again} />
    </main>
  );
}
