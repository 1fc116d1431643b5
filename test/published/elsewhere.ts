/** The `fn`s that nothing here computes, and why. */
export const NOT_COMPUTED: Readonly<Record<string, string>> = {
  xyzToUcs: 'tristimulus values U, V, W of the 1960 diagram: only its chromaticities are used here (uvHelpers)',
  hlgAmbientGammaDelta: 'a correction of the system gamma for a bright room: the reference room is what displays are measured in',
  e1455Matrix: 'a least-squares correction takes luminance drift into chromaticity: the four-colour method is used instead',
  combineUncertainty: 'combination of uncertainties',
  method: 'descriptions of how to measure, no number to compute',
  maxCllFall: 'content light levels of pictures, which are not measured',
};
