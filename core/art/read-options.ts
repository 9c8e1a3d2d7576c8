import type { ByteSource } from '../base/source.ts'
import type { ReadAs } from './layer.ts'
import type { PageData } from './pdf/read-page.ts'

export interface ReadOptions {
  /** Bytes that one decoded plane, or one section held in memory, may take; 4 GiB when left out. */
  readonly memoryBudget?: number
  /** Of a file of pages: the number of the one that is read, from 1; the first when left out. */
  readonly page?: number
  /** Of what is drawn: pixels on an inch of its planes; `drawnPpi` when left out. */
  readonly ppi?: number
  /** Of a file that asks for one. Without it, or with a wrong one, `password-needed` or `password-wrong` is thrown. */
  readonly password?: string
  /** Of a page: every ink by itself, or only where its layers are painted; inks when left out. */
  readonly readAs?: ReadAs
  /** Further files that make up the art together with the first: further plates, or drawn layers over an image. */
  readonly beside?: readonly ByteSource[]
  /** What lies with the program; without it what needs it is said to be missing. */
  readonly shipped?: PageData
}
