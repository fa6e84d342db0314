/** The usual cautions of vacuum work (common practice). They never replace the procedures of the site. */
export const PROCEDURES =
  'Follow the procedures of the site and the advice of its qualified staff; never bypass an interlock.';
export const HOT =
  'Gauges, filaments, pumps and baked parts are hot and at high voltage: switch off and let cool before touching.';
export const RESIDUES =
  'Residues in the chamber may be toxic, corrosive or pyrophoric: gas detection and the gas-safety procedure come before opening anything.';
export const TRACER = 'Tracer gas displaces air and must never over-pressurise a chamber, window or bellows.';
export const STORED =
  'A cryopump or getter gives off all that it holds when it warms: over-pressure and flammable mixtures.';
export const ROTOR = 'Never vent or open a turbopump at speed.';
export const FLAMMABLE = 'The vapour may be flammable in the foreline and the exhaust.';
export const WATER_HAZARD = 'Water on hot or live parts: steam, electric shock. Close circuits by procedure only.';
