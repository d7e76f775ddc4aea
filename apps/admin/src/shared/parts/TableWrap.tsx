import { useEffect, useRef, useState, type ReactNode } from 'react';

/** Holds a table that may be wider than its place; when it is, it can be reached and scrolled by keyboard. */
export function TableWrap({ label, children }: { label: string; children: ReactNode }) {
  const ref = useRef<HTMLDivElement>(null);
  const [wide, setWide] = useState(false);
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const watch = new ResizeObserver(() => setWide(element.scrollWidth > element.clientWidth + 1));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const region = wide ? ({ role: 'region', 'aria-label': label, tabIndex: 0 } as const) : {};
  return (
    <div className="table-wrap" ref={ref} {...region}>
      {children}
    </div>
  );
}
