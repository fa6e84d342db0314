import { Sentence } from '../frame/Sentence.tsx';

/** One field of a record: a sentence, or the lines of a list. */
export function FieldValue({ value }: { readonly value: string | readonly string[] }) {
  if (typeof value === 'string') return <Sentence text={value} />;
  return (
    <ul>
      {value.map((line) => (
        <li key={line}>
          <Sentence text={line} />
        </li>
      ))}
    </ul>
  );
}
