import { useEffect, useId, useRef, type ReactNode } from 'react';

interface Props {
  title: string;
  onClose: () => void;
  children: ReactNode;
  className?: string;
}

/** A modal dialog; Escape closes it and the focus goes back to where it came from, or to the page if that is gone. */
export function Dialog({ title, onClose, children, className = '' }: Props) {
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = ref.current;
    const before = document.activeElement;
    if (dialog && !dialog.open) dialog.showModal();
    return () => {
      // Where something on the page has taken the focus meanwhile, it keeps it.
      if (document.activeElement !== document.body && !dialog?.contains(document.activeElement)) return;
      const back = before instanceof HTMLElement && before !== document.body && before.isConnected;
      (back ? before : document.getElementById('main'))?.focus();
    };
  }, []);
  return (
    <dialog
      ref={ref}
      className={`dialog ${className}`}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 className="dialog__head" id={id}>
        {title}
      </h2>
      {children}
    </dialog>
  );
}
