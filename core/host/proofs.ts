import type { ProofDetail, ProofFindings } from '../proof/manifest.ts'

/** How a proof's file is wanted. */
export interface ProofWish {
  /** Most bytes that it may have. */
  readonly budget: number
  /** Runs the checks and tells what they found. */
  readonly checked: boolean
}

/** A proof that was made and lies nowhere yet. */
export interface MadeProof {
  /** The page, UTF-8. */
  readonly bytes: Uint8Array<ArrayBuffer>
  /** Of the version that it shows. */
  readonly id: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
  readonly detail: ProofDetail
  /** Null where it was made without checks. */
  readonly counts: ProofFindings['counts']
}
