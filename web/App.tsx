import { useQuery } from '@tanstack/react-query';
import { lazy, Suspense, useEffect } from 'react';
import { Redirect, Route, Switch, useLocation, useSearch } from 'wouter';
import { AboutPage } from './about/AboutPage.tsx';
import { SetUpPage } from './access/SetUpPage.tsx';
import { SignInPage } from './access/SignInPage.tsx';
import { AlertsPage } from './alerts/AlertsPage.tsx';
import { sessionQuestion } from './api/questions.ts';
import { FleetPage } from './fleet/FleetPage.tsx';
import { setServerTime } from './frame/clock.ts';
import { Frame } from './frame/Frame.tsx';
import { Failed, NotFound, Skeleton } from './frame/PageState.tsx';
import { RoundPage } from './round/RoundPage.tsx';
import { words } from './strings/frame.ts';

/** The charts are half of the code: the pages that draw them, and what few open, are loaded when needed. */
const ChamberPage = lazy(() => import('./chamber/ChamberPage.tsx').then((page) => ({ default: page.ChamberPage })));
const AlertPage = lazy(() => import('./alerts/AlertPage.tsx').then((page) => ({ default: page.AlertPage })));
const SignedRoundPage = lazy(() =>
  import('./round/SignedRoundPage.tsx').then((page) => ({ default: page.SignedRoundPage })),
);
const SignedRoundsPage = lazy(() =>
  import('./round/SignedRoundsPage.tsx').then((page) => ({ default: page.SignedRoundsPage })),
);
const TicketPage = lazy(() => import('./ticket/TicketPage.tsx').then((page) => ({ default: page.TicketPage })));
const PerformancePage = lazy(() =>
  import('./performance/PerformancePage.tsx').then((page) => ({ default: page.PerformancePage })),
);
const RecordsPage = lazy(() =>
  import('./rationalisation/RecordsPage.tsx').then((page) => ({ default: page.RecordsPage })),
);
const RecordPage = lazy(() =>
  import('./rationalisation/RecordPage.tsx').then((page) => ({ default: page.RecordPage })),
);
const MeasurementPage = lazy(() =>
  import('./measurement/MeasurementPage.tsx').then((page) => ({ default: page.MeasurementPage })),
);
const AnalyserPage = lazy(() =>
  import('./measurement/AnalyserPage.tsx').then((page) => ({ default: page.AnalyserPage })),
);
const ComparePage = lazy(() => import('./compare/ComparePage.tsx').then((page) => ({ default: page.ComparePage })));

export function App() {
  const session = useQuery(sessionQuestion);
  useEffect(() => {
    if (session.data) setServerTime(session.data.now);
  }, [session.data]);
  if (!session.data) {
    return (
      <main className="alone">
        {session.isError ? (
          <Failed error={session.error} what={words.thePage} retry={() => void session.refetch()} />
        ) : (
          <Skeleton />
        )}
      </main>
    );
  }
  return (
    <Switch>
      <Route path="/sign-in">
        <SignInPage session={session.data} />
      </Route>
      <Route path="/set-up">
        <SetUpPage session={session.data} />
      </Route>
      <Route>{session.data.who ? <Signed /> : <ToSignIn />}</Route>
    </Switch>
  );
}

/** Whoever opens a link lands on it after signing in. */
function ToSignIn() {
  const [path] = useLocation();
  const search = useSearch();
  const wanted = search ? `${path}?${search}` : path;
  return <Redirect to={wanted === '/' ? '/sign-in' : `/sign-in?to=${encodeURIComponent(wanted)}`} replace />;
}

function Signed() {
  return (
    <Frame>
      <Suspense fallback={<Skeleton lines={6} />}>
        <Switch>
          <Route path="/" component={RoundPage} />
          <Route path="/chambers/:id">{({ id }) => <ChamberPage key={id} id={id} />}</Route>
          <Route path="/chambers/:id/ticket">{({ id }) => <TicketPage key={id} id={id} />}</Route>
          <Route path="/rounds" component={SignedRoundsPage} />
          <Route path="/rounds/:id">{({ id }) => <SignedRoundPage key={id} id={id} />}</Route>
          <Route path="/alerts" component={AlertsPage} />
          <Route path="/alerts/:id">{({ id }) => <AlertPage key={id} id={id} />}</Route>
          <Route path="/performance">
            <PerformancePage />
          </Route>
          <Route path="/rationalisation">
            <RecordsPage />
          </Route>
          <Route path="/rationalisation/:signature">
            {({ signature }) => <RecordPage key={signature} signature={signature} />}
          </Route>
          <Route path="/compare">
            <ComparePage />
          </Route>
          <Route path="/measurement">
            <MeasurementPage />
          </Route>
          <Route path="/measurement/:id">{({ id }) => <AnalyserPage key={id} id={id} />}</Route>
          <Route path="/fleet" component={FleetPage} />
          <Route path="/about" component={AboutPage} />
          <Route>
            <NotFound />
          </Route>
        </Switch>
      </Suspense>
    </Frame>
  );
}
