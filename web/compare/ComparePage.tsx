import { useQuery } from '@tanstack/react-query';
import { Link, useLocation } from 'wouter';
import { useAddress } from '../address/useAddress.ts';
import { roundQuestion } from '../api/questions.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { words } from '../strings/compare.ts';
import { type CompareAddress, compareCodec, MODES, modeOf, ofChamber } from './address.ts';
import { BeforePage } from './BeforePage.tsx';
import { chambersOf } from './chambers.ts';
import { SistersPage } from './SistersPage.tsx';
import { TwoPage } from './TwoPage.tsx';

/** Three comparisons, one page: which of them stands in the address. */
export function ComparePage() {
  useTitle(words.title);
  const [address, change] = useAddress(compareCodec);
  const [, go] = useLocation();
  const round = useQuery(roundQuestion);
  const mode = modeOf(address);
  const choose = (place: number) => {
    const next = MODES[place] as (typeof MODES)[number];
    if (next !== mode) change({ ...ofChamber(address.chamber), mode: next });
  };
  useKeys({ escape: () => go('/'), '1': () => choose(0), '2': () => choose(1), '3': () => choose(2) });
  if (round.data === undefined) {
    return (
      <Section className="head" margin={words.margin}>
        <h1 className="verdict">{words.mode[mode]}</h1>
        <Answered question={round} what={words.theChambers}>
          {() => null}
        </Answered>
      </Section>
    );
  }
  const chambers = chambersOf(round.data);
  if (chambers.length === 0) return <NoChambers />;
  const props = { address, change, round: round.data, mode, choose };
  if (mode === 'two') return <TwoPage {...props} />;
  const chamber = address.chamber === '' ? chambers[0] : chambers.find(({ id }) => id === address.chamber);
  if (!chamber) return <NoSuchChamber address={address} chambers={chambers} change={change} />;
  const Page = mode === 'before' ? BeforePage : SistersPage;
  return <Page key={chamber.id} {...props} chamber={chamber} chambers={chambers} />;
}

function NoChambers() {
  return (
    <Head margin={words.margin}>
      <h1 className="verdict">{words.noChambers}</h1>
      <p className="facts">
        <span>{words.noChambersMore}</span>
      </p>
      <div className="does">
        <Link className="btn" href="/fleet">
          {words.toFleet}
        </Link>
      </div>
    </Head>
  );
}

interface NoSuchChamberProps {
  readonly address: CompareAddress;
  readonly chambers: ReturnType<typeof chambersOf>;
  readonly change: (part: Partial<CompareAddress>) => void;
}

/** As many as can be read at once. */
const OFFERED = 8;

function NoSuchChamber({ address, chambers, change }: NoSuchChamberProps) {
  return (
    <Head margin={words.margin}>
      <h1 className="verdict">{words.noSuchChamber(address.chamber)}</h1>
      <p className="facts">
        <span>{words.chooseAnother}</span>
      </p>
      <div className="does">
        {chambers.slice(0, OFFERED).map(({ id, name }) => (
          <button key={id} type="button" onClick={() => change(ofChamber(id))}>
            {name}
          </button>
        ))}
      </div>
    </Head>
  );
}
