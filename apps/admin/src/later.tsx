import { lazy, useState, type ComponentType, type ReactNode } from 'react';

/** A component whose code comes when it is first shown, or sooner by `bring`. */
export interface Later<Props> {
  (props: Props & object): ReactNode;
  bring(): Promise<unknown>;
}

/**
 * A component of another file, fetched when it is first needed. What has come already is shown at once: as something
 * lazy React would first show that it waits, and go on showing that for a third of a second.
 */
export function later<Name extends string, Props extends object>(
  load: () => Promise<Record<Name, ComponentType<Props>>>,
  name: Name,
): Later<Props> {
  let here: ComponentType<Props> | null = null;
  const bring = async () => ({ default: (here = (await load())[name]) });
  const Lazy = lazy(bring) as unknown as ComponentType<Props>;
  function Shown(props: Props) {
    const [Part] = useState<ComponentType<Props>>(() => here ?? Lazy);
    return <Part {...props} />;
  }
  return Object.assign(Shown, { bring });
}
