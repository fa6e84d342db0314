import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { words as all } from '../strings/calibration.ts';
import { Refusal } from './Field.tsx';
import type { SendingState } from './useSending.ts';

const words = all.sendRow;

interface SendRowProps {
  readonly sending: SendingState;
  /** Everything that is needed has been filled in. */
  readonly ready: boolean;
  readonly word: string;
  readonly busyWord?: string;
  readonly cancel: () => void;
}

/** The end of a form that asks the server: send, leave it, and why it was refused. */
export function SendRow({ sending, ready, word, busyWord = words.sending, cancel }: SendRowProps) {
  return (
    <>
      <div className="does">
        <button type="submit" className="main" disabled={!ready || sending.busy}>
          {sending.busy ? <Sending word={busyWord} /> : word}
        </button>
        <button type="button" onClick={cancel}>
          {words.cancel}
        </button>
      </div>
      <Refusal sending={sending} />
    </>
  );
}
