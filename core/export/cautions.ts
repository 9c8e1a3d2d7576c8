/** What no proof of this program can promise; on every report and sheet. */
export const cautions = [
  'A computed preview. Metallic and diffractive effects, gloss, white opacity and the readability of codes depend on material, light and viewer; none of them is contractual from a screen or from this page.',
  'Colour over full white is indicative for the named print condition. The binding references are the approved sample, the press OK and the verified code.',
  'Codes need verification on a calibrated device, on the finished pack.',
  'Legal text, food contact and claims follow the rules of the place where the pack is sold; nothing here judges them.',
  'Moving holography can strobe. Show light runs slowly, and warn people before.',
  'Rectangular and blazed grooves below 1000 nm pitch are 10 to 30 % off in single orders; pitches below 667 nm were not checked against a rigorous solution.',
] as const
