/** Somebody's word that a finding may stand. */
export interface Waiver {
  /** Of the finding. */
  readonly key: string
  readonly reason: string
  /** Who waives it. */
  readonly by: string
  /** Day, as 2026-03-31. */
  readonly on: string
}
