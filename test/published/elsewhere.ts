/** The `fn`s that no function of the colour room computes, and why. */
export const NOT_COLOUR: Readonly<Record<string, string>> = {
  xyzToUcs: 'tristimulus values U, V, W of the 1960 diagram: only its chromaticities are used here (uvHelpers)',
  hlgAmbientGammaDelta: 'a correction of the system gamma for a bright room: the reference room is what displays are measured in',
  fourColorMatrix: 'correction of a meter, built from readings',
  e1455Matrix: 'correction of a meter, built from readings',
  typeA: 'uncertainty of repeated readings',
  combineUncertainty: 'combination of uncertainties',
  limit: 'limits and aims of measures',
  method: 'descriptions of how to measure, no number to compute',
  maxCllFall: 'content light levels of pictures, which are not measured',
  uniformity9: 'a measure of a run',
};
