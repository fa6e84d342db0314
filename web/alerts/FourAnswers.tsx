import type { Alert } from '../../shared/contract/alerts.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { capital } from '../notation/sentence.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';

/** Five words for how sure, and what each means. */
const SURE: Readonly<Record<Alert['sureness'], string>> = {
  'nearly certain': 'the watch gives it more than 95 in 100',
  likely: 'it gives it 80 to 95 in 100',
  'more likely than not': 'it gives it 60 to 80 in 100',
  open: 'it stands between this and what is named at the right',
  'cannot tell': 'what is missing is in the evidence',
};

const withoutFirst = (step: string): string => capital(step.replace(/^first[,:]?\s+/i, ''));

/** How sure · First · What would settle it · What else it could be: always these, always in this order. */
export function FourAnswers({ alert }: { readonly alert: Alert }) {
  return (
    <div className="four">
      <div>
        <h2>How sure</h2>
        <p className="say">{capital(alert.sureness)}.</p>
        <p className="note">{SURE[alert.sureness]}</p>
      </div>
      <div className="now">
        <h2>First</h2>
        <p className="say">
          {alert.firstStep ? <Sentence text={withoutFirst(alert.firstStep)} /> : 'Look at the evidence below.'}
        </p>
      </div>
      <div>
        <h2>What would settle it</h2>
        <p className="say">
          {alert.settle ? <Sentence text={capital(alert.settle)} /> : 'Nothing is known that would.'}
        </p>
      </div>
      <div>
        <h2>What else it could be</h2>
        {alert.alternatives.length === 0 ? <p className="say">Nothing else fits what was found.</p> : null}
        {alert.alternatives.map(({ signature, why }) => (
          <p className="say" key={signature}>
            {SIGNATURE_TITLE[signature]}: <Sentence text={why} />
          </p>
        ))}
      </div>
    </div>
  );
}
