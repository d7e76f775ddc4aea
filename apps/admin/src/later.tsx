import { lazy, useState, type ComponentType, type ReactNode } from 'react';
import type { Asks } from './providers/ask-ahead';

/** The code of a component could not be fetched: no connection, or a server that was updated meanwhile. */
export class PartMissing extends Error {
  constructor(
    name: string,
    cause: unknown,
    /** Lets the component be fetched again when it is next shown; until then it fails as it did. */
    readonly forget: () => void,
  ) {
    super(name, { cause });
  }
}

/** A component whose code comes when it is first shown, or sooner by `bring`. */
export interface Later<Props> {
  (props: Props & object): ReactNode;
  /** Says what it asks for first. Never fails: should the code not come, that is said where it is shown. */
  bring(): Promise<Asks | undefined>;
}

/**
 * A component of another file, fetched when it is first needed. What has come already is shown at once: as something
 * lazy React would first show that it waits, and go on showing that for a third of a second.
 */
export function later<Name extends string, Props extends object>(
  load: () => Promise<Record<Name, ComponentType<Props>> & { asks?: Asks }>,
  name: Name,
): Later<Props> {
  let here: ComponentType<Props> | null = null;
  const fetched = async () => {
    const part = await load().catch((cause: unknown) => {
      throw new PartMissing(name, cause, () => (Lazy = lazy(fetched) as unknown as ComponentType<Props>));
    });
    return { default: (here = part[name]), asks: part.asks };
  };
  let Lazy = lazy(fetched) as unknown as ComponentType<Props>;
  function Shown(props: Props) {
    const [Part] = useState<ComponentType<Props>>(() => here ?? Lazy);
    return <Part {...props} />;
  }
  return Object.assign(Shown, {
    bring: () =>
      fetched().then(
        ({ asks }) => asks,
        () => undefined,
      ),
  });
}
