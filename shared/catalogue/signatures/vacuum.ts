/** Signatures about the vacuum. */
import { FLAMMABLE, HOT, PROCEDURES, RESIDUES, ROTOR, STORED, TRACER, WATER_HAZARD } from './cautions.ts';
import type { SignatureEntry } from './entry.ts';

export const VACUUM_SIGNATURES = {
  'air-leak': {
    title: 'Air leaks in',
    meaning:
      'Nitrogen and argon have risen in the proportion of air, with or without oxygen: hot parts and getters eat oxygen. Real leak through a seal, or a trapped volume that held air.',
    firstSteps: [
      'First close valves one after another: the side that keeps rising has the leak.',
      'See whether the gauge agrees, and whether a vent, purge or transfer was going on.',
      'Switch emission off above 10⁻³ Pa, then search with helium from the top down.',
      'Tighten or replace the seal; verify in the same state as before.',
    ],
    cautions: [RESIDUES, HOT, TRACER, PROCEDURES],
    settles:
      'Helium sprayed outside, or a valve closed for an hour while mass 40 is watched: a trapped volume fades by itself, a leak does not.',
    priority: {
      usual: 'high',
      basis:
        'S1 where it is sure and a second witness says the same: the gauge, or argon and oxygen both; S2 until then; low while it is slow or uncertain.',
    },
    example: 'air',
    nearMiss: 'puff of air in one scan',
  },
  'gas-inleak': {
    title: 'One gas leaks in from a line',
    meaning:
      'One gas has risen without the gases that air would bring with it: a valve or mass-flow controller leaks by, a purge is open, tracer gas comes in, or a cleaning gas has left its residue (HF, F2, SiF4, NF3).',
    firstSteps: [
      'First close the hand valve upstream for ten minutes: if the gas falls, it is the line.',
      'Check that the set-point of the flow controller is zero and the purge is off.',
      'Lock the line out and plan the valve.',
    ],
    cautions: [
      RESIDUES,
      'If the gas is toxic, pyrophoric or corrosive, the gas-safety procedure comes first: do not open, do not purge.',
      PROCEDURES,
    ],
    settles: 'Change the pressure upstream by procedure and watch whether the gas follows.',
    priority: { usual: 'medium', basis: 'S2; S1 where the gas is toxic or pyrophoric.' },
    example: 'nitrogen line',
    nearMiss: 'declared gas step',
  },
  water: {
    title: 'Water has risen',
    meaning:
      'Water stands above its own baseline and no air came with it: a wet part, a warm wall, or a cooling circuit that leaks.',
    firstSteps: [
      'First see whether anything was warmed, opened or transferred.',
      'Compare with the good pump-downs of this chamber.',
      'If it came at once or in bursts, have the cooling circuits held under pressure one by one.',
    ],
    cautions: [WATER_HAZARD, HOT, PROCEDURES],
    settles: 'A wet wall falls as one over time; a circuit answers when its valve is closed for five minutes.',
    priority: {
      usual: 'low',
      basis: 'S3; S2 where it rose at once to several times the usual, as a cooling circuit would.',
    },
    example: 'water',
    nearMiss: 'hall four kelvin warmer',
  },
  'hydrocarbon-oil': {
    title: 'Pump oil has come in',
    meaning:
      'The comb of a hydrocarbon oil, peaks 14 apart around 43, 57 and 71: back-streaming from a mechanical pump, mostly after a valve was opened in the wrong order.',
    firstSteps: [
      'First hold product, then check that the roughing valve closed before the pump stopped.',
      'Look at the trap and the foreline valve, and isolate the pump.',
      'Plan a warm pump-out or a clean; never vent through the oil.',
    ],
    cautions: [FLAMMABLE, 'Oil and oxygen can ignite.', PROCEDURES],
    settles: 'Close the foreline for ten minutes: the comb falls if the pump is its source.',
    priority: { usual: 'medium', basis: 'S2: optics and wafers are lost within hours.' },
    example: 'oil',
    nearMiss: 'acetone',
  },
  perfluoropolyether: {
    title: 'Fluorinated pump fluid has come in',
    meaning:
      '69 with 119, 169, 31 and 47: a perfluoropolyether oil or grease. 47 and 169 tell it from a fluorocarbon process gas.',
    firstSteps: [
      'First rule out a fluorocarbon process gas; then look at the pump and at greased seals.',
      'Isolate the pump.',
    ],
    cautions: [
      'Heated above 290 °C it gives off toxic products: no hot work, no bake before the site has agreed.',
      PROCEDURES,
    ],
    settles: 'Gas off and still there: fluid. Gone with the gas: process.',
    priority: { usual: 'medium', basis: 'S2: it creeps onto optics and wafers.' },
    example: 'perfluoropolyether',
    nearMiss: 'oil',
  },
  silicone: {
    title: 'Silicone has come in',
    meaning:
      '73 with 147, 207 or 221: siloxanes from a grease, a seal or a diffusion pump. Beams and plasma turn it into glass.',
    firstSteps: [
      'First keep beam, plasma and heat off; then find what was brought in.',
      'Call the specialist cleaning.',
    ],
    cautions: ['Deposits are insulators and stay: do not heat.', PROCEDURES],
    settles: 'A second scan over the heavy masses: 147, 207, 221 and 281 together are silicone.',
    priority: { usual: 'medium', basis: 'S1 to S2: hard to remove.' },
    example: 'silicone',
    nearMiss: 'acetone',
  },
  solvent: {
    title: 'A solvent has come in',
    meaning: 'The pattern of one solvent: what was cleaned is not dry, or an elastomer gives back what it took up.',
    firstSteps: ['First ask what was cleaned and when.', 'Pump on, warm where allowed; replace swollen seals.'],
    cautions: [FLAMMABLE, PROCEDURES],
    settles: 'It halves within hours to days if it dries; a supply stays.',
    priority: { usual: 'low', basis: 'S3.' },
    example: 'acetone',
    nearMiss: 'oil',
  },
  helium: {
    title: 'Helium has risen',
    meaning:
      'Mass 4 has risen outside a leak check: helium from a neighbour, a bottle left open, permeation, or a helium circuit that leaks.',
    firstSteps: ['First ask whether anyone sprays helium nearby.', 'Close the bottle and time the decay.'],
    cautions: ['Helium displaces air: check ventilation.', TRACER, PROCEDURES],
    settles: 'It falls with V/S once the source is closed; a circuit goes on.',
    priority: { usual: 'low', basis: 'S3 outside a leak check; expected during one.' },
    example: 'helium',
    nearMiss: 'helium in a leak check',
  },
  hydrogen: {
    title: 'Hydrogen has risen',
    meaning: 'Mass 2 alone: hot metal, an arc, a process line, or a pump that no longer holds light gases.',
    firstSteps: [
      'First look at temperatures and at the speed and backing pressure of the pump.',
      'See whether helium or methane follow.',
    ],
    cautions: ['Hydrogen can collect to a flammable amount.', STORED, PROCEDURES],
    settles: 'Read the backing pressure: with a failing pump helium follows.',
    priority: { usual: 'low', basis: 'S2 to S3.' },
    example: 'hydrogen',
    nearMiss: 'hall four kelvin warmer',
  },
  'carbon-oxides': {
    title: 'Oxides of carbon have risen',
    meaning:
      'Carbon monoxide or dioxide without air: hot metal, a filament, oxygen burning carbon off a wall. With hydrogen and water, but without nitrogen: a surface that grew warm, a gauge or filament that was degassed.',
    firstSteps: [
      'First look for what got hot: filament, heater, beam.',
      'See whether the gauge rose too; if not, it is the analyser itself.',
    ],
    cautions: ['Carbon monoxide in the exhaust is toxic.', HOT, PROCEDURES],
    settles: 'Emission or heater down by a step: a hot part follows within minutes.',
    priority: { usual: 'low', basis: 'S3.' },
    example: 'carbon monoxide',
    nearMiss: 'nitrogen line',
  },
  methane: {
    title: 'Methane has risen',
    meaning:
      '15 and 16 together: hot filaments and ion pumps make methane, getters do not pump it. 26, 27, 29 and 30 with it are light hydrocarbons.',
    firstSteps: ['First look at emission and at the getter or ion pump.'],
    cautions: ['Flammable when a pump is regenerated.', STORED, PROCEDURES],
    settles: 'Emission down by half: methane of the filament follows.',
    priority: { usual: 'low', basis: 'S3.' },
    example: 'methane',
    nearMiss: 'oil',
  },
  'argon-bursts': {
    title: 'An ion pump lets go argon',
    meaning: 'Argon alone, in pulses at regular distances: an ion pump gives back what it buried. No leak.',
    firstSteps: ['First compare with the pump current: it pulses with the argon.', 'Plan a bake or another pump.'],
    cautions: ['Ion pumps carry several kilovolts and strong magnets.', PROCEDURES],
    settles: 'Pump valved off or switched off by procedure: the pulses stop.',
    priority: { usual: 'low', basis: 'S3; it must not be taken for a leak.' },
    example: 'argon bursts',
    nearMiss: 'argon line',
  },
  'pumping-loss': {
    title: 'Pumping is going',
    meaning:
      'Gases have risen together, each in its own proportion, and the gauge with them. All alike: a valve closed or the foreline is high. The lightest first: a turbopump slows down. Carbon monoxide, then nitrogen and hydrogen, but neither methane nor argon: a getter is full; without nitrogen a warm surface gives off such gases. Hydrogen and helium, then nitrogen and argon, water last: a cryopump warms or is full.',
    firstSteps: [
      'First read the backing pressure and the speed of the pump; of a cryopump the temperatures of its stages.',
      'See whether a valve moved, and when a getter was last activated.',
      'Isolate the chamber before the pump gives in.',
    ],
    cautions: [ROTOR, STORED, PROCEDURES],
    settles:
      'Backing pressure, speed and stage temperatures settle it; if they are well, the analyser may have gained.',
    priority: { usual: 'medium', basis: 'S2.' },
    example: 'pumping loss',
    nearMiss: 'analyser eight per cent up',
  },
  'pump-down-late': {
    title: 'This pump-down is late',
    meaning: 'The chamber falls more slowly than its own good pump-downs.',
    firstSteps: ['First compare the residual gas with the last good pump-down.', 'Air: leak. Water alone: wet.'],
    cautions: [HOT, PROCEDURES],
    settles: 'An hour more: water falls as one over time, a leak does not.',
    priority: { usual: 'low', basis: 'S3; S2 when the tool is waited for.' },
    example: 'weak pump after a vent',
    nearMiss: 'fifth pump-down like the others',
  },
  limit: {
    title: 'Above a limit that was set',
    meaning:
      'A partial pressure stays above the limit that a person has set for this chamber, by more than its uncertainty.',
    firstSteps: [
      'First see who set the limit and what for.',
      'Look at the other alerts of the chamber: they may name the cause.',
    ],
    cautions: [PROCEDURES],
    settles: 'The limit and the interval of the reading stand side by side in the evidence.',
    priority: { usual: 'medium', basis: 'As set with the limit.' },
    example: 'water above its limit',
    nearMiss: 'water below its limit',
  },
  'unexplained-peaks': {
    title: 'Peaks without an explanation',
    meaning:
      'Something came in that no gas of this chamber explains. Resins and polymers have no pattern of their own: ask which step was running.',
    firstSteps: [
      'First ask what was brought in when it began.',
      'Then average twenty scans over the whole mass range.',
    ],
    cautions: [RESIDUES, PROCEDURES],
    settles: 'A full scan to the highest mass, or the name of what was brought in.',
    priority: { usual: 'low', basis: 'S2 to S3: unknown, so it is looked at.' },
    example: 'unknown gas',
    nearMiss: 'one spiked peak',
  },
} as const satisfies Record<string, SignatureEntry>;
