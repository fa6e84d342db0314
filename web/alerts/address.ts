import { ALERT_STATES, PRIORITIES, SIGNATURES } from '../../shared/contract/words.ts';
import { type Codec, choiceField, textField } from '../address/codec.ts';

export interface AlertsAddress {
  readonly find: string;
  /** `open` is every state but `normal`. */
  readonly state: (typeof STATE_CHOICES)[number];
  readonly priority: (typeof PRIORITY_CHOICES)[number];
  readonly signature: (typeof SIGNATURE_CHOICES)[number];
  readonly chamber: string;
}

export const STATE_CHOICES = ['open', 'all', ...ALERT_STATES] as const;
export const PRIORITY_CHOICES = ['all', ...PRIORITIES] as const;
export const SIGNATURE_CHOICES = ['all', ...SIGNATURES] as const;

export const alertsCodec: Codec<AlertsAddress> = {
  find: textField(),
  state: choiceField(STATE_CHOICES, 'open'),
  priority: choiceField(PRIORITY_CHOICES, 'all'),
  signature: choiceField(SIGNATURE_CHOICES, 'all'),
  chamber: textField(64),
};

const OPEN = ALERT_STATES.filter((state) => state !== 'normal').join(',');

/** What the server is asked; priority and words are looked for in its answer. */
export const askedOf = ({ state, signature, chamber }: AlertsAddress) => ({
  state: state === 'all' ? null : state === 'open' ? OPEN : state,
  signature: signature === 'all' ? null : signature,
  chamber: chamber === '' ? null : chamber,
});
