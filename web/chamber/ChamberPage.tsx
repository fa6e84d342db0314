import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import type { Alert } from '../../shared/contract/alerts.ts';
import { useAddress } from '../address/useAddress.ts';
import { EvidenceTable, HowToReadEvidence } from '../alerts/EvidenceTable.tsx';
import { byWeight, isOpen } from '../alerts/moves.ts';
import { alertsQuestion, chamberQuestion } from '../api/questions.ts';
import type { ChamberDetail } from '../api/shapes.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { ChamberEntries } from '../round/ChamberEntries.tsx';
import { markOpened } from '../round/opened.ts';
import { words } from '../strings/chamber.ts';
import { chamberCodec } from './address.ts';
import { ChamberHead } from './ChamberHead.tsx';
import { LimitsSection } from './LimitsSection.tsx';
import { LogSection } from './LogSection.tsx';
import type { ChamberParts } from './parts.ts';
import { ReadingsSection } from './ReadingsSection.tsx';
import { SpectrumSection } from './SpectrumSection.tsx';
import { TrendSection } from './TrendSection.tsx';
import { UsualSection } from './UsualSection.tsx';

const NO_ALERTS: readonly Alert[] = [];

export function ChamberPage({ id }: { readonly id: string }) {
  const question = useQuery(chamberQuestion(id));
  useTitle(question.data?.name ?? id);
  useEffect(() => markOpened(id), [id]);
  if (question.data === undefined && isMissing(question.error)) {
    return <NotFound sentence={words.thereIsNoChamber(id)} />;
  }
  if (question.data === undefined) {
    return (
      <Section className="head" margin={words.chamber}>
        <Answered question={question} what={words.theChamber} lines={8} page>
          {() => null}
        </Answered>
      </Section>
    );
  }
  return (
    <>
      {question.isError ? (
        <Section>
          <Answered question={question} what={words.theChamber}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      <TheChamber chamber={question.data} />
    </>
  );
}

function TheChamber({ chamber }: { readonly chamber: ChamberDetail }) {
  const [address, change] = useAddress(chamberCodec);
  const { data } = useQuery(alertsQuestion({ chamber: chamber.id }));
  const alerts = data ? [...data.alerts].sort(byWeight) : NO_ALERTS;
  const open = alerts.filter((alert) => isOpen(alert.state));
  const shown =
    alerts.find(({ id }) => id === address.alert) ?? open.find(({ id }) => id === chamber.worst?.id) ?? open[0];
  const parts: ChamberParts = { chamber, alerts, address, change };
  return (
    <>
      <ChamberHead {...parts} alert={shown ?? null} open={open} />
      {shown ? (
        <Section className="sec" margin={<HowToReadEvidence />}>
          <h2>{words.evidence}</h2>
          <EvidenceTable evidence={shown.evidence} />
        </Section>
      ) : null}
      <SpectrumSection {...parts} />
      <TrendSection {...parts} alert={shown ?? null} />
      <ReadingsSection {...parts} />
      <LogSection {...parts} />
      <ChamberEntries chamber={chamber.id} />
      <LimitsSection {...parts} />
      <UsualSection {...parts} />
    </>
  );
}
