import * as v from 'valibot'
import { type ArtAnswers, artRequests } from './art.ts'
import { type AssetAnswers, assetRequests } from './assets.ts'
import { type CheckAnswers, checkRequests } from './checks.ts'
import { taskId } from './fields.ts'
import type { FileRef } from './file-ref.ts'
import { type FileAnswers, fileRequests } from './files.ts'
import { type OutgoingAnswers, outgoingRequests } from './outgoing.ts'
import { type SigningAnswers, signingRequests } from './signing.ts'

export interface About {
  readonly version: string
  readonly shell: 'desktop' | 'browser'
  /** `dialog`: the host asks for files itself. `upload`: the page hands them over and saves by download. */
  readonly files: 'dialog' | 'upload'
  /** Given on the command line. */
  readonly start: FileRef | null
}

/** Every request between window and host, and how what goes in is parsed. */
export const requests = {
  about: v.object({}),
  ...fileRequests,
  ...artRequests,
  ...assetRequests,
  ...checkRequests,
  ...outgoingRequests,
  ...signingRequests,
  /** How far long work is, asked for while its own request runs. */
  progress: v.object({ taskId }),
  cancel: v.object({ taskId }),
} as const

/** What each of them answers. */
export interface Answers
  extends FileAnswers,
    ArtAnswers,
    AssetAnswers,
    CheckAnswers,
    OutgoingAnswers,
    SigningAnswers {
  about: About
  /** `done` in 0..1; null when no such task runs. */
  progress: { readonly done: number; readonly what: string } | null
  cancel: null
}

export type RequestName = keyof typeof requests

/** What a handler gets: parsed, with defaults. */
export type Input<N extends RequestName> = v.InferOutput<(typeof requests)[N]>
/** One request, one answer; rejects with a HostError that carries code and message. */
export interface Host {
  <N extends RequestName>(name: N, input: v.InferInput<(typeof requests)[N]>): Promise<Answers[N]>
  /** A file the user dropped or picked in the page: desktop passes its path inside the preload, browser uploads it. */
  adopt(file: unknown): Promise<FileRef>
}

export type Handlers = { readonly [N in RequestName]: (input: Input<N>) => Promise<Answers[N]> }
