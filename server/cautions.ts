/** What to mind where a calibration means letting gas in or closing a valve. General, and never instead of the site's own rules. */
import type { NewTask } from '../shared/contract/calibration.ts';
import type { Note } from '../shared/contract/readings.ts';

const SITE_FIRST =
  'Follow the site’s own procedure; where it asks for licensed or trained staff, leave it to them. Never bypass an interlock.';

/** A gas is let in: a calibration gas, a deliberate dose of air. */
export const DOSE_CAUTION: Note = {
  code: 'caution-dose',
  text:
    'Letting gas in: use a regulator and a leak valve rated for the gas, keep the pressure below what the analyser, the gauge and the pumps stand, ' +
    'and make sure that over-pressure can be relieved. A filament that is lit can burn out. Gas that is toxic, flammable or pyrophoric, ' +
    `and what it leaves in pumps and exhaust, needs the detection and abatement that the site has for it. ${SITE_FIRST}`,
};

/** The valve between analyser and chamber is closed, and opened again. */
export const CLOSED_VALVE_CAUTION: Note = {
  code: 'caution-closed-valve',
  text:
    'With the valve closed the analyser’s own gas may gather in a volume that nothing pumps: watch its pressure, and switch the emission off before it becomes too high. ' +
    'Before the valve opens again, be sure that what has gathered may go into the chamber and that the chamber is at a pressure that the analyser stands. ' +
    `Surfaces near a hot cathode and after a bake are hot; its supply carries high voltage. ${SITE_FIRST}`,
};

export const CALIBRATION_CAUTIONS: readonly Note[] = [DOSE_CAUTION, CLOSED_VALVE_CAUTION];

export const taskCautions = (request: NewTask): Note[] => {
  if (request.kind === 'pattern') return [DOSE_CAUTION];
  return request.kind === 'background' && request.source === 'closed valve' ? [CLOSED_VALVE_CAUTION] : [];
};
