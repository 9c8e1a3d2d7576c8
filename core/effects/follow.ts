/** Lets an effect grow stronger or weaker with the tones of artwork. */
export interface Follow {
  /** What of the gratings changes. */
  readonly what: 'share' | 'depth'
  /** The artwork: the effect's own layer, or another layer by its id. */
  readonly from: 'own' | { readonly layerId: string }
  /**
   * 1: nothing is left under black and all under white; −1: the other way round; between, as much less.
   */
  readonly gain: number
}
