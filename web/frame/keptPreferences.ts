import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import type { Preferences, Session } from '../../shared/contract/access.ts';
import { savePreferences } from '../api/moves.ts';
import { adoptPreferences, preferencesSent, useUnsentPreferences } from './preferences.ts';
import { useSession } from './site.ts';

const TRY_AGAIN_MS = 30_000;

/** Takes over what the server keeps for the person who looks, and brings to it what they change here. */
export function useKeptPreferences(): void {
  const client = useQueryClient();
  const { who, preferences } = useSession();
  const unsent = useUnsentPreferences();
  useEffect(() => {
    if (who) adoptPreferences(who, preferences);
  }, [who, preferences]);
  useEffect(() => {
    if (unsent === null) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let left = false;
    const done = async (saved: Preferences) => {
      // An answer that was on its way tells of what was before.
      await client.cancelQueries({ queryKey: ['session'] });
      client.setQueryData<Session>(['session'], (session) => session && { ...session, preferences: saved });
      preferencesSent(saved);
    };
    const send = () => {
      savePreferences(unsent).then(done, () => {
        if (!left) timer = setTimeout(send, TRY_AGAIN_MS);
      });
    };
    send();
    return () => {
      left = true;
      clearTimeout(timer);
    };
  }, [client, unsent]);
}
