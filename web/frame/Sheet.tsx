import { type ReactNode, useEffect, useId, useRef } from 'react';
import { words } from '../strings/frame.ts';

interface SheetProps {
  readonly title: string;
  readonly close: () => void;
  readonly children: ReactNode;
}

/** A native dialog: the browser keeps the focus inside, Esc closes it and gives the focus back. */
export function Sheet({ title, close, children }: SheetProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const element = dialog.current;
    if (element && !element.open) element.showModal();
  }, []);
  return (
    <dialog ref={dialog} className="sheet" aria-labelledby={heading} onClose={close}>
      <h2 id={heading}>{title}</h2>
      {children}
      <div className="does">
        <button type="button" onClick={() => dialog.current?.close()}>
          {words.close}
        </button>
      </div>
    </dialog>
  );
}
