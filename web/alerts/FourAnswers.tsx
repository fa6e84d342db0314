import type { Alert } from '../../shared/contract/alerts.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { useUnit } from '../frame/site.ts';
import { capital, sentenceIn } from '../notation/sentence.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/alerts.ts';

/** Five words for how sure, and what each means. */
const SURE: Readonly<Record<Alert['sureness'], string>> = {
  'nearly certain': words.theWatchGivesItMore,
  likely: words.itGives,
  'more likely than not': words.itGives2,
  open: words.itStandsBetween,
  'cannot tell': words.whatIsMissing,
};

const withoutFirst = (step: string): string => capital(step.replace(/^first[,:]?\s+/i, ''));

/** How sure · First · What would settle it · What else it could be: always these, always in this order. */
interface FourAnswersProps {
  readonly alert: Alert;
  /** Of a document that has a unit of its own; absent: the reader's. */
  readonly unit?: PressureUnit;
}

export function FourAnswers({ alert, unit }: FourAnswersProps) {
  const own = useUnit();
  const said = (text: string) => sentenceIn(text, unit ?? own);
  return (
    <div className="four">
      <div>
        <h2>{words.howSure}</h2>
        <p className="say">{capital(alert.sureness)}.</p>
        <p className="note">{SURE[alert.sureness]}</p>
      </div>
      <div className="now">
        <h2>{words.first}</h2>
        <p className="say">{alert.firstStep ? said(withoutFirst(alert.firstStep)) : words.lookAtTheEvidenceBelow}</p>
      </div>
      <div>
        <h2>{words.whatWouldSettle}</h2>
        <p className="say">{alert.settle ? said(capital(alert.settle)) : words.nothingIsKnown}</p>
      </div>
      <div>
        <h2>{words.whatElse}</h2>
        {alert.alternatives.length === 0 ? <p className="say">{words.nothingElseFits}</p> : null}
        {alert.alternatives.map(({ signature, why }) => (
          <p className="say" key={signature}>
            {SIGNATURE_TITLE[signature]}: {said(why)}
          </p>
        ))}
      </div>
    </div>
  );
}
