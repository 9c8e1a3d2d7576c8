/** What stands where there is room for a sentence. */
export const shortCaution =
  'A computed preview: metallic and diffractive effects, gloss and the opacity of white are not contractual from a screen.'

/** What a proof on a screen binds nobody to. */
export const cautions: readonly string[] = [
  'A computed preview. Metallic and diffractive effects, gloss, white opacity and the readability of codes depend on material, light and viewer; none of them is contractual from a screen.',
  'Colour over full white is indicative for the named print condition. The binding references are the approved sample, the press OK and the verified code.',
  'Codes need verification on a calibrated device, on the finished pack.',
  'Legal text, food contact and claims follow the rules of the place where the pack is sold; nothing here judges them.',
  'Moving holography can strobe. Show light runs slowly, and warn people before.',
]
