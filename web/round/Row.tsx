import { memo, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import { AcknowledgeForm } from '../alerts/AcknowledgeForm.tsx';
import { ShelveForm } from '../alerts/ShelveForm.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay } from '../frame/site.ts';
import { Rich } from '../strings/Rich.tsx';
import { words } from '../strings/round.ts';
import { ChamberStrip } from '../strip/ChamberStrip.tsx';
import type { Layout } from '../strip/layout.ts';
import { Tick } from './Paper.tsx';
import { Margin, type RowWordsProps, Saying, Who } from './RowWords.tsx';
import type { Group } from './rows.ts';

interface RowProps extends RowWordsProps {
  readonly layout: Layout;
  readonly selected: boolean;
  readonly select: (id: string) => void;
}

const canAcknowledge = (state: string | undefined) => state === 'unacknowledged' || state === 'returned-unacknowledged';
const canShelve = (state: string | undefined) => canAcknowledge(state) || state === 'acknowledged';

/** One chamber that needs a person, is not heard, or has changed. */
export const Row = memo(function Row(props: RowProps) {
  const { line, group, unseen, layout, selected, select } = props;
  const article = useRef<HTMLElement>(null);
  const [form, setForm] = useState<'acknowledge' | 'shelve' | null>(null);
  const mayMove = useMay('operator');
  const heading = `row-${line.id}`;
  useEffect(() => {
    if (selected) article.current?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  const close = () => {
    setForm(null);
    article.current?.querySelector('a')?.focus();
  };
  return (
    <article
      ref={article}
      className={`blk row${group === 'changed' || group === 'hand' ? ' quiet' : ''}${selected ? ' sel' : ''}`}
      aria-labelledby={heading}
      onFocus={() => select(line.id)}
    >
      <Margin {...props} />
      <div className="c">
        <Who line={line} unseen={unseen} heading={heading} />
        <div className="cell">
          <ChamberStrip line={line} layout={layout} />
        </div>
        <Saying line={line} group={group} unseen={unseen} />
        <Actions line={line} group={group} open={setForm} mayMove={mayMove} />
        <Tick />
        {form === 'acknowledge' && line.worst ? (
          <div className="form">
            <AcknowledgeForm alert={line.worst.id} done={close} cancel={close} focus />
          </div>
        ) : null}
        {form === 'shelve' && line.worst ? (
          <div className="form">
            <ShelveForm alert={line.worst.id} done={close} cancel={close} focus />
          </div>
        ) : null}
      </div>
      {selected && line.worst && mayMove ? (
        <RowKeys
          acknowledge={canAcknowledge(line.worst.state) ? () => setForm('acknowledge') : undefined}
          shelve={canShelve(line.worst.state) ? () => setForm('shelve') : undefined}
        />
      ) : null}
    </article>
  );
});

function RowKeys(act: { readonly acknowledge: (() => void) | undefined; readonly shelve: (() => void) | undefined }) {
  useKeys({ a: act.acknowledge, s: act.shelve });
  return null;
}

interface ActionsProps {
  readonly line: RoundLine;
  readonly group: Group;
  readonly open: (form: 'acknowledge' | 'shelve') => void;
  readonly mayMove: boolean;
}

/** A chamber that has only changed asks for nothing: its name opens it. */
function Actions({ line, group, open, mayMove }: ActionsProps) {
  const [, go] = useLocation();
  const state = line.worst?.state;
  const acknowledge = mayMove && canAcknowledge(state);
  const shelve = mayMove && canShelve(state);
  return (
    <div className="act">
      {acknowledge ? (
        <button type="button" onClick={() => open('acknowledge')}>
          <Act text={words.acknowledgeOf} of={line.name} /> <Key name="a" />
        </button>
      ) : null}
      {shelve ? (
        <button type="button" onClick={() => open('shelve')}>
          <Act text={words.shelveOf} of={line.name} /> <Key name="s" />
        </button>
      ) : null}
      {!acknowledge && !shelve && group !== 'changed' ? (
        <button type="button" onClick={() => go(`/chambers/${encodeURIComponent(line.id)}`)}>
          <Act text={words.openOf} of={line.name} /> <Key name="↵" />
        </button>
      ) : null}
    </div>
  );
}

/** Seen, a button is one word; heard, it says of which chamber. */
function Act({ text, of }: { readonly text: string; readonly of: string }) {
  return (
    <span>
      <Rich text={text} parts={{ of: () => <span className="unseen">{of}</span> }} />
    </span>
  );
}
