import { type UseQueryResult, useQueryClient } from '@tanstack/react-query';
import { type ReactNode, useEffect, useState } from 'react';
import { Link } from 'wouter';
import type { Session } from '../../shared/contract/access.ts';
import { RefusedError } from '../api/ask.ts';
import { ROLE_MAY } from '../notation/words.ts';
import { words } from '../strings/frame.ts';
import { Rich } from '../strings/Rich.tsx';
import { Head } from './Section.tsx';

/** A quick answer must not flash a skeleton, nor a heading that is another one at once. */
const SKELETON_AFTER_MS = 200;

/** More lines than this say nothing more. */
const LINES = ['1', '2', '3', '4', '5', '6', '7', '8'];

interface SkeletonProps {
  readonly lines?: number;
  /** Of a page whose heading is its sentence: what it is called until the sentence is known. */
  readonly heading?: string | undefined;
}

export function Skeleton({ lines = 3, heading }: SkeletonProps) {
  const [due, setDue] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setDue(true), SKELETON_AFTER_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <>
      {due && heading ? <h1 className="unseen">{heading}</h1> : null}
      <div className="skeleton" role="status">
        <span className="unseen">{words.loading}</span>
        {LINES.slice(0, lines).map((line) => (
          // Their place is kept from the start, so that nothing moves when they are shown.
          <span key={line} className={due ? 'sk' : 'sk early'} />
        ))}
      </div>
    </>
  );
}

interface FailedProps {
  readonly error: unknown;
  /** What is unknown because of it: "The alerts", "The trend". */
  readonly what: string;
  readonly retry: () => void;
}

/** Says what is unknown, why, and offers to try again. */
export function Failed({ error, what, retry }: FailedProps) {
  const refusal = error instanceof RefusedError ? error : null;
  if (refusal?.status === 403) return <NoPermission what={what} reason={refusal.message} />;
  return (
    <div className="failed" role="alert">
      <p className="say">{words.didNotCome(what, refusal?.message ?? words.brokenPage)}</p>
      <p className="note">
        {words.unknownUntil(what)}
        {refusal?.requestId ? (
          <>
            {' '}
            <Rich text={words.request} parts={{ id: () => <span className="code">{refusal.requestId}</span> }} />
          </>
        ) : null}
      </p>
      <div className="does">
        <button type="button" onClick={retry}>
          {words.tryAgain}
        </button>
      </div>
    </div>
  );
}

/** What is not theirs, why, what they may do instead, and who can give more. */
function NoPermission({ what, reason }: { readonly what: string; readonly reason: string }) {
  // Where the session itself did not come there is nobody to speak of.
  const role = useQueryClient().getQueryData<Session>(['session'])?.who?.role;
  return (
    <div className="failed">
      <p className="say">{words.notYours(what)}</p>
      <p className="note">{reason}</p>
      <p className="note">
        {role ? `${words.yourRole(role, ROLE_MAY[role])} ` : ''}
        {words.whoGivesMore}
      </p>
    </div>
  );
}

interface AnsweredProps<T> {
  readonly question: UseQueryResult<T>;
  readonly what: string;
  readonly lines?: number;
  /** The answer is the page itself, with its sentence: without it, the page is named by what has not come. */
  readonly page?: boolean;
  readonly children: (data: T) => ReactNode;
}

/** Loading, failed, stale or there: the same for every question of every page. */
export function Answered<T>({ question, what, lines, page, children }: AnsweredProps<T>) {
  const retry = () => void question.refetch();
  if (question.data === undefined) {
    if (!question.isError) return <Skeleton lines={lines ?? 3} heading={page ? what : undefined} />;
    return (
      <>
        {page ? <h1 className="unseen">{what}</h1> : null}
        <Failed error={question.error} what={what} retry={retry} />
      </>
    );
  }
  return (
    <>
      {question.isError ? <NotRefreshed error={question.error} what={what} retry={retry} /> : null}
      {children(question.data)}
    </>
  );
}

function NotRefreshed({ error, what, retry }: FailedProps) {
  const refusal = error instanceof RefusedError ? error : null;
  return (
    <div className="bar cut" role="status">
      <span>
        <Rich
          text={words.notRenewed(what, refusal?.message ?? words.brokenHere)}
          parts={{ b: (inner) => <b>{inner}</b> }}
        />
        {refusal?.requestId ? (
          <>
            {' '}
            <Rich text={words.request} parts={{ id: () => <span className="code">{refusal.requestId}</span> }} />
          </>
        ) : null}
      </span>
      <button type="button" onClick={retry}>
        {words.tryNow}
      </button>
    </div>
  );
}

/** True for an answer that says there is no such thing. */
export const isMissing = (error: unknown): boolean => error instanceof RefusedError && error.status === 404;

export function NotFound({ sentence = words.noSuchPage }: { readonly sentence?: string }) {
  return (
    <Head margin={words.notFoundMargin}>
      <h1 className="verdict">{sentence}</h1>
      <p className="facts">
        <Link href="/">{words.goToRound}</Link>
      </p>
    </Head>
  );
}
