import { words } from '../strings/frame.ts';
import { Section } from './Section.tsx';

interface ShowMoreProps {
  readonly shown: number;
  readonly all: number;
  readonly more: () => void;
  readonly last?: boolean;
}

/** Under a list of which only a part is drawn: how much that is, and more of it. Nothing when all of it is. */
export function ShowMore({ shown, all, more, last = false }: ShowMoreProps) {
  if (all <= shown) return null;
  return (
    <Section className={last ? 'sec last' : 'sec'}>
      <p className="does">
        <button type="button" onClick={more}>
          {words.showMore}
        </button>
        <span className="note">{words.shownOf(shown, all)}</span>
      </p>
    </Section>
  );
}
