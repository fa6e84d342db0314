import { useQuery } from '@tanstack/react-query';
import { roundQuestion } from '../api/questions.ts';
import { choicesOf } from '../round/rows.ts';
import { words } from '../strings/rationalisation.ts';

interface KindChoiceProps {
  readonly kind: string;
  readonly choose: (kind: string) => void;
  readonly label?: string;
  /** What no choice is called. */
  readonly none?: string;
}

/** Kinds of chamber that there are, and the one in the address even if there is none of it any more. */
export function KindChoice({ kind, choose, label = words.kindOfChamber, none = words.everyKind }: KindChoiceProps) {
  const { data: round } = useQuery(roundQuestion);
  const kinds = round ? choicesOf(round).kinds : [];
  const all = kind === '' || kinds.includes(kind) ? kinds : [...kinds, kind];
  return (
    <label>
      {label}{' '}
      <select className="wide" value={kind} onChange={(event) => choose(event.target.value)}>
        <option value="">{none}</option>
        {all.map((word) => (
          <option key={word} value={word}>
            {word}
          </option>
        ))}
      </select>
    </label>
  );
}
