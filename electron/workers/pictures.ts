import { checkCancelled, partOf, type Task } from '../../core/base/task.ts'
import { checkParts } from '../../core/checks/parts.ts'
import type { Captioned } from '../../core/export/pdf/picture-grid.ts'
import { proofSheet } from '../../core/export/proof-sheet.ts'
import { type SignOffSheet, signOffPdf } from '../../core/export/signoff-pdf.ts'
import type { MadeFile, StillKind, StillsWish } from '../../core/export/stills/wish.ts'
import { ArtShelf, type JobWork } from '../art-work.ts'
import { CheckWork } from '../check-work.ts'
import { codeReader } from '../code-reader.ts'
import { GlareThread } from '../glare-thread.ts'
import { KeptTables } from '../kept-tables.ts'
import { foundPoses, JobPictures, makeStills, type StillNames } from '../picture-work.ts'
import type { PlacedArt } from '../placed-art.ts'
import { recordPictures, type SheetOrder, sheetPictures, usualPixels } from '../sheet-work.ts'
import { serveWork } from '../worker-side.ts'

/** No art stands for a panel that has none yet. */
type Wish = { readonly art: PlacedArt | null } & JobWork

export type PicturesCrafts = {
  stills: { input: Wish & StillNames & { readonly wish: StillsWish }; value: readonly MadeFile[] }
  /** A proof sheet, PDF. */
  sheet: {
    input: Wish & SheetOrder
    value: Uint8Array<ArrayBuffer>
  }
  /** A record of sign-off to be printed, PDF; `pictured` is the job that was signed, null where there are no pictures of it. */
  signoff: {
    input: { readonly sheet: SignOffSheet; readonly pictured: Wish | null }
    value: Uint8Array<ArrayBuffer>
  }
}

const shelf = new ArtShelf()
const glare = new GlareThread()
const checks = new CheckWork(async () => glare.among(checkParts(await codeReader())))
const tables = new KeptTables()

/** Stills that the glare check is asked for. */
const found: readonly StillKind[] = ['best', 'darkest', 'glare']

serveWork<PicturesCrafts>({
  async stills({ art, wish, stem, software, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.03))
    const ready = await checks.ready(file, work, partOf(task, 0.03, 0.2))
    const seeks = found.some(kind => wish.what.includes(kind))
    const poses = foundPoses(seeks, ready, partOf(task, 0.2, 0.4))
    const pictures = new JobPictures(ready.made.map, work.job, tables)
    const names = { stem, software }
    const files = makeStills(work.job, wish, poses, pictures, names, partOf(task, seeks ? 0.4 : 0.2, 1))
    return { value: files, transfer: files.map(({ bytes }) => bytes.buffer) }
  },
  async sheet({ art: placed, version, notes, pixels = usualPixels, ...work }, task) {
    const file = await shelf.forJob(placed, work.job, partOf(task, 0, 0.02))
    const checked = await checks.check(file, work, partOf(task, 0.02, 0.6))
    const { art, assigned, map, list } = checked
    const drawing = new JobPictures(map, work.job, tables)
    const pictures = sheetPictures(work.job, map, list, drawing, pixels, partOf(task, 0.6, 0.98))
    task.progress?.(0.99, 'sheet')
    const value = await proofSheet({ version, art, assigned, map, checked: list, ...pictures, notes })
    checkCancelled(task)
    return { value, transfer: [value.buffer] }
  },
  async signoff({ sheet, pictured }, task) {
    const pictures = pictured === null ? [] : await signedPictures(pictured, task)
    const value = await signOffPdf({ ...sheet, pictures })
    checkCancelled(task)
    return { value, transfer: [value.buffer] }
  },
})

async function signedPictures({ art, ...work }: Wish, task: Task): Promise<readonly Captioned[]> {
  const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.03))
  const ready = await checks.ready(file, work, partOf(task, 0.03, 0.3))
  const poses = foundPoses(true, ready, partOf(task, 0.3, 0.7))
  const drawing = new JobPictures(ready.made.map, work.job, tables)
  return recordPictures(work.job, poses, drawing, partOf(task, 0.7, 1))
}
