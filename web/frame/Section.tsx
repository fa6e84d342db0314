import type { ReactNode } from 'react';

interface SectionProps {
  /** What stands left of the rule. */
  readonly margin?: ReactNode;
  readonly className?: string;
  readonly label?: string;
  /** What a link within the page leads to. */
  readonly id?: string;
  readonly children: ReactNode;
}

/** One stretch of the page: margin, rule, matter. */
export function Section({ margin, className = '', label, id, children }: SectionProps) {
  return (
    <section className={`blk ${className}`} aria-label={label} id={id}>
      <div className="m">{margin === undefined ? null : <div className="txt">{margin}</div>}</div>
      <div className="c">{children}</div>
    </section>
  );
}

interface HeadProps {
  readonly margin?: ReactNode;
  readonly flag?: ReactNode;
  readonly children: ReactNode;
}

/** The head of a page: its sentence, with the flag flying beside it when there is one. */
export function Head({ margin, flag, children }: HeadProps) {
  return (
    <section className="blk head">
      <div className={flag ? 'm bigm' : 'm'}>
        {flag}
        <div className="txt">{margin}</div>
      </div>
      <div className="c">{children}</div>
    </section>
  );
}
