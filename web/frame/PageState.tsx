import type { UseQueryResult } from '@tanstack/react-query';
import { type ReactNode, useEffect, useState } from 'react';
import { Link } from 'wouter';
import { RefusedError } from '../api/ask.ts';
import { Head } from './Section.tsx';

/** A quick answer must not flash a skeleton. */
const SKELETON_AFTER_MS = 200;

/** More lines than this say nothing more. */
const LINES = ['1', '2', '3', '4', '5', '6', '7', '8'];

export function Skeleton({ lines = 3 }: { readonly lines?: number }) {
  const [due, setDue] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setDue(true), SKELETON_AFTER_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <div className="skeleton" role="status">
      <span className="unseen">Loading</span>
      {due ? LINES.slice(0, lines).map((line) => <span key={line} className="sk" />) : null}
    </div>
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
  const reason = refusal?.message ?? 'Something went wrong on this page.';
  if (refusal?.status === 403) return <NoPermission what={what} />;
  return (
    <div className="failed" role="alert">
      <p className="say">
        {what} did not come: {reason}
      </p>
      <p className="note">
        Nothing is known here until {what.toLowerCase()} can be read.
        {refusal?.requestId ? (
          <>
            {' '}
            Request <span className="code">{refusal.requestId}</span>.
          </>
        ) : null}
      </p>
      <div className="does">
        <button type="button" onClick={retry}>
          Try again
        </button>
      </div>
    </div>
  );
}

function NoPermission({ what }: { readonly what: string }) {
  return (
    <div className="failed">
      <p className="say">{what} are not yours to see.</p>
      <p className="note">Your role does not reach that far; an admin can give you another.</p>
    </div>
  );
}

interface AnsweredProps<T> {
  readonly question: UseQueryResult<T>;
  readonly what: string;
  readonly lines?: number;
  readonly children: (data: T) => ReactNode;
}

/** Loading, failed, stale or there: the same for every question of every page. */
export function Answered<T>({ question, what, lines, children }: AnsweredProps<T>) {
  const retry = () => void question.refetch();
  if (question.data === undefined) {
    return question.isError ? (
      <Failed error={question.error} what={what} retry={retry} />
    ) : (
      <Skeleton lines={lines ?? 3} />
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
  const reason = error instanceof RefusedError ? error.message : 'something went wrong on this page.';
  return (
    <div className="bar cut" role="status">
      <span>
        <b>{what} could not be renewed</b>, what you see is the past: {reason}
      </span>
      <button type="button" onClick={retry}>
        Try now
      </button>
    </div>
  );
}

/** True for an answer that says there is no such thing. */
export const isMissing = (error: unknown): boolean => error instanceof RefusedError && error.status === 404;

export function NotFound({ sentence = 'There is no such page.' }: { readonly sentence?: string }) {
  return (
    <Head margin="Not found">
      <h1 className="verdict">{sentence}</h1>
      <p className="facts">
        <Link href="/">Go to the round</Link>
      </p>
    </Head>
  );
}
