import * as v from 'valibot'
import {
  type MadePlates,
  mostBleedMm,
  type PlateWish,
  plateFormats,
  plateUses,
  readings,
} from '../export/plate-wish.ts'
import { type MadeFile, stillKinds, stillLimits } from '../export/stills/wish.ts'
import { budgetLimits, usualBudget } from '../proof/budget.ts'
import { anyJob, fileId, taskId, versionId } from './fields.ts'
import type { MadeProof } from './proofs.ts'

/** A file's name that a page gives: it goes into words and into names of files that the host makes up. */
const jobName = v.pipe(v.string(), v.minLength(1), v.maxLength(400))
const stillSide = v.pipe(v.number(), v.integer(), v.minValue(stillLimits.least), v.maxValue(stillLimits.side))
const cellSide = v.pipe(v.number(), v.integer(), v.minValue(stillLimits.least), v.maxValue(stillLimits.cell))
const angles = (most: number) => {
  const deg = v.pipe(v.number(), v.minValue(-most), v.maxValue(most))
  const count = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(stillLimits.angles))
  return v.object({ fromDeg: deg, toDeg: deg, count })
}
const stillsWish = v.object({
  what: v.pipe(v.array(v.picklist(stillKinds)), v.minLength(1)),
  format: v.variant('kind', [
    v.object({ kind: v.picklist(['png', 'tiff']), depth: v.picklist([8, 16]) }),
    v.object({ kind: v.literal('exr'), depth: v.picklist([16, 32]) }),
  ]),
  width: stillSide,
  height: stillSide,
  contact: v.object({
    tilt: angles(stillLimits.tiltDeg),
    turn: angles(stillLimits.turnDeg),
    cellWidth: cellSide,
    cellHeight: cellSide,
  }),
})

/** What goes out: made here, saved or handed over by the page. */
export const outgoingRequests = {
  /** Makes the one file of a proof; it lies nowhere until the page saves it or hands it over. `jobFileId`: null for a job that was never saved. */
  makeProof: v.object({
    fileId,
    jobFileId: v.nullable(fileId),
    /** File name that it has, or would be saved under. */
    jobName: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    taskId,
    job: anyJob,
    /** Most bytes that the file may have. */
    budget: v.optional(
      v.pipe(v.number(), v.integer(), v.minValue(budgetLimits[0]), v.maxValue(budgetLimits[1])),
      usualBudget,
    ),
    /** Runs the checks and tells what they found. */
    checked: v.optional(v.boolean(), true),
  }),
  /** A proof sheet for a meeting, PDF, for the page to save. `proofOut` lists it when it went out. */
  makeProofSheet: v.object({ fileId, jobFileId: v.nullable(fileId), jobName, taskId, job: anyJob }),
  /** Separations of the job as files, to be handed on, the PDF first. `proofOut` lists them when they went out. */
  makePlates: v.object({
    fileId,
    taskId,
    job: anyJob,
    jobName,
    wish: v.object({
      use: v.picklist(plateUses),
      reading: v.object({
        white: v.picklist(readings),
        inks: v.picklist(readings),
        varnish: v.picklist(readings),
      }),
      marks: v.boolean(),
      bleedMm: v.pipe(v.number(), v.minValue(0), v.maxValue(mostBleedMm)),
      plates: v.nullable(v.pipe(v.array(v.pipe(v.string(), v.maxLength(200))), v.maxLength(200))),
      formats: v.pipe(v.array(v.picklist(plateFormats)), v.minLength(1), v.maxLength(3)),
    }) satisfies v.GenericSchema<PlateWish>,
  }),
  /** Pictures of the job as files, for the page to save: over tilt and turn, frames of the glare check, panels, lights. */
  makeStills: v.object({ fileId, taskId, job: anyJob, jobName, wish: stillsWish }),
  /** The record of a saved job's sign-off, to be printed: PDF, for the page to save. */
  makeSignOffPdf: v.object({ fileId, jobFileId: fileId, taskId, job: anyJob }),
  /** A proof that was made went out under a name: its version is listed beside the job. */
  proofOut: v.object({
    jobFileId: fileId,
    id: versionId,
    name: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
  }),
} as const

/** What each of them answers. */
export interface OutgoingAnswers {
  /** With the name that its file would have beside the job. */
  makeProof: MadeProof & { readonly name: string }
  /** With the id of the version that it shows. */
  makeProofSheet: MadeFile & { readonly id: string }
  makePlates: MadePlates & { readonly id: string }
  makeStills: readonly MadeFile[]
  makeSignOffPdf: MadeFile
  proofOut: null
}
