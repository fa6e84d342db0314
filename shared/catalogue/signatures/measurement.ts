/** Signatures about the measurement. */
import { HOT, PROCEDURES } from './cautions.ts';
import type { SignatureEntry } from './entry.ts';

export const MEASUREMENT_SIGNATURES = {
  silent: {
    title: 'No scans',
    meaning: 'Nothing is known of this chamber: the analyser, its gateway or the network is silent.',
    firstSteps: ['First see whether the emission of the analyser is on; then the gateway.'],
    cautions: [HOT, PROCEDURES],
    settles: 'One scan settles it.',
    priority: { usual: 'medium', basis: 'S2: blind.' },
    example: 'silence',
    nearMiss: 'one lost scan',
  },
  frozen: {
    title: 'The same scan again and again',
    meaning: 'All values repeat exactly. A living analyser never repeats its noise: what arrives is old.',
    firstSteps: ['First look at the gateway: it sends its last scan again.', 'Then restart the scan of the analyser.'],
    cautions: [PROCEDURES],
    settles: 'A scan with other noise.',
    priority: { usual: 'medium', basis: 'S2: blind.' },
    example: 'frozen values',
    nearMiss: 'one repeated scan',
  },
  'mass-shift': {
    title: 'The mass scale has slid',
    meaning:
      'A profile shows peaks more than 0.2 u from their masses or from their usual place; heights are read where the peaks are, until it moves further. A scan with one value per mass loses height instead, the more the heavier the peak, while the gauge stands still.',
    firstSteps: ['First run the mass calibration of the analyser.'],
    cautions: [HOT, PROCEDURES],
    settles: 'A profile scan over 18, 28 and 44 shows where the tops are.',
    priority: { usual: 'medium', basis: 'S2: readings are wrong.' },
    example: 'mass scale',
    nearMiss: 'analyser eight per cent down',
  },
  'sensitivity-drift': {
    title: 'The analyser reads high or low',
    meaning:
      'All peaks have moved by one factor, or the gauge alone, or the reading steps when the detector is switched: a sensitivity or a gain has changed, not the gas.',
    firstSteps: [
      'First run the gain check: both detectors on the same gas, then the analyser against the gauge.',
      'Enter the new sensitivity or gain: what is usual is carried over by it.',
    ],
    cautions: [HOT, PROCEDURES],
    settles: 'A second gauge, or a known dose of one gas.',
    priority: { usual: 'low', basis: 'S3; the chamber is not cleaner than before.' },
    example: 'gain loss',
    nearMiss: 'analyser eight per cent down',
  },
  'impossible-pressure': {
    title: 'Partial pressures above the total',
    meaning:
      'The partial pressures together are more than the gauge can have seen: analyser or gauge is wrong. Pressures in pascal and limits are not judged meanwhile; ratios are.',
    firstSteps: ['First compare the gauge with a second one, then check the gain of the analyser.'],
    cautions: [HOT, PROCEDURES],
    settles: 'A second gauge on the same side of the valve.',
    priority: { usual: 'medium', basis: 'S2: absolute readings cannot be trusted.' },
    example: 'gauge falls to a third',
    nearMiss: 'gauge twelve per cent up',
  },
  'detector-saturated': {
    title: 'The detector is at its stop',
    meaning:
      'The highest peaks are cut off, at one and the same height or flat at their top, and so is everything computed from them. Peaks that the analysis could leave out do not stop the watch on the others.',
    firstSteps: ['First lower the gain or go to the Faraday detector.'],
    cautions: ['A multiplier at its stop ages within hours.', PROCEDURES],
    settles: 'A scan at a tenth of the gain.',
    priority: { usual: 'low', basis: 'S3.' },
    example: 'saturated detector',
    nearMiss: 'steady top peak',
  },
  'analyser-outgassing': {
    title: 'The analyser itself gives off gas',
    meaning:
      "Oxides of carbon and methane have risen but the gauge has not: the hot ioniser makes them. Or a gas has risen of which the recorded background says that more than half is the analyser's own. Or 16, 19, 23, 35 or 39 rise alone: ions from its surfaces, no gas.",
    firstSteps: ['First wait or degas the ioniser.', 'Mark the scans of the warm-up.'],
    cautions: [HOT, PROCEDURES],
    settles: 'Emission down by half: gas of the ioniser follows, gas of the chamber does not.',
    priority: { usual: 'low', basis: 'S4.' },
    example: 'ioniser gas',
    nearMiss: 'carbon monoxide',
  },
  noise: {
    title: 'The analyser is noisy',
    meaning:
      'The scatter from scan to scan has grown several times and small peaks can no longer be seen, or steady peaks drop out for single scans.',
    firstSteps: ['First check cable, ground and multiplier voltage.'],
    cautions: ['High voltage at the multiplier.', PROCEDURES],
    settles: 'A scan with the emission off: electronic noise stays.',
    priority: { usual: 'low', basis: 'S3.' },
    example: 'noisy scans',
    nearMiss: 'one spiked peak',
  },
} as const satisfies Record<string, SignatureEntry>;
