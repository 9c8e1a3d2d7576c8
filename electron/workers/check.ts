import { partOf, type Task } from '../../core/base/task.ts'
import type { HolographyAccount } from '../../core/checks/accounting/account.ts'
import { accountOfInput } from '../../core/checks/accounting/check.ts'
import { type FlashMap, flashMap, usualFlashGrid } from '../../core/checks/glare/flash-map.ts'
import type { CheckInput } from '../../core/checks/input.ts'
import { type LegibilityResult, legibilityResult } from '../../core/checks/legibility/result.ts'
import { checkParts } from '../../core/checks/parts.ts'
import { type SlipPicture, slipPicture } from '../../core/checks/register/slip-picture.ts'
import type { CheckList } from '../../core/checks/run.ts'
import type { HeatMap } from '../../core/checks/sweep/heat-map.ts'
import { lightHeat } from '../../core/checks/sweep/light-heat.ts'
import { type WhitePicture, whitePicture } from '../../core/checks/white/picture.ts'
import { reportPage } from '../../core/export/report.ts'
import type { MadeProof } from '../../core/host/proofs.ts'
import { makeWhite, newRecipe } from '../../core/job/made-white.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { PanelPose } from '../../core/reference/scene.ts'
import { type SmallPicture, smallPicture } from '../../core/reference/small-picture.ts'
import { ArtShelf, type JobWork, rolesForJob } from '../art-work.ts'
import { CheckWork, type ReadyJob } from '../check-work.ts'
import { codeReader } from '../code-reader.ts'
import { GlareThread } from '../glare-thread.ts'
import { KeptLevels } from '../kept-levels.ts'
import type { PlacedArt } from '../placed-art.ts'
import { type ProofOrder, proofWork } from '../proof-work.ts'
import { serveWork } from '../worker-side.ts'

/** No art stands for a panel that has none yet. */
type Wish = { readonly art: PlacedArt | null } & JobWork

export type CheckCrafts = {
  check: { input: Wish; value: CheckList }
  /** A page about the job, HTML. */
  report: {
    input: Wish & { readonly jobName: string; readonly version: string; readonly made: string }
    value: string
  }
  /** The one file of its proof. */
  proof: { input: Wish & { readonly order: ProofOrder }; value: MadeProof }
}

/** Pictures of what the checks look at. */
export type PictureCrafts = {
  slips: { input: Wish; value: SlipPicture }
  flashes: { input: Wish; value: FlashMap }
  white: { input: Wish & { readonly size: number }; value: WhitePicture }
  /** Null where the job has no tables to judge by. */
  account: { input: Wish; value: HolographyAccount | null }
  heat: { input: Wish; value: HeatMap }
  type: { input: Wish; value: LegibilityResult }
  frame: { input: Wish & FrameWish; value: SmallPicture }
}

/** How the panel is held in a picture, and what part of it the picture shows. */
interface FrameWish {
  readonly held: PanelPose
  readonly zoom: Zoom
  readonly width: number
  readonly height: number
}

const shelf = new ArtShelf()
const glare = new GlareThread()
const checks = new CheckWork(async () => glare.among(checkParts(await codeReader())))
const levels = new KeptLevels()

/** The job as the checks read it, for one of their pictures. */
async function ready({ art, ...work }: Wish, task: Task): Promise<ReadyJob> {
  const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
  return checks.ready(file, work, partOf(task, 0.05, pictureFrom))
}

const read = async (wish: Wish, task: Task): Promise<CheckInput> => (await ready(wish, task)).input

/** Rays a pixel of a small picture, along each side. */
const frameGrid = 2

/** Part of a picture's work that goes into the map. */
const pictureFrom = 0.3

serveWork<CheckCrafts & PictureCrafts>({
  async check({ art, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
    const { list } = await checks.check(file, work, partOf(task, 0.05, 1))
    return { value: list }
  },
  async slips(wish, task) {
    return { value: await slipPicture(await read(wish, task), partOf(task, pictureFrom, 1)) }
  },
  async flashes(wish, task) {
    const { scene, map, sets } = await read(wish, task)
    return { value: flashMap(scene, map, sets, usualFlashGrid(scene), partOf(task, pictureFrom, 1)) }
  },
  async white({ art, job, size }, task) {
    const file = await shelf.forJob(art, job, partOf(task, 0, 0.05))
    const assigned = await rolesForJob(file, job, partOf(task, 0.05, 0.2))
    const white = await makeWhite(file, job.madeWhite ?? newRecipe(job), job.panel, partOf(task, 0.2, 0.9))
    return { value: await whitePicture(file, assigned, white, size, partOf(task, 0.9, 1)) }
  },
  async account(wish, task) {
    return { value: await accountOfInput(await read(wish, task), partOf(task, pictureFrom, 1)) }
  },
  async heat(wish, task) {
    const { made, input } = await ready(wish, task)
    const all = levels.of(made.map, made.art, wish)
    return { value: lightHeat(input, all, partOf(task, pictureFrom, 1)) }
  },
  async type(wish, task) {
    return { value: await legibilityResult(await read(wish, task), partOf(task, pictureFrom, 1)) }
  },
  async frame({ held, zoom, width, height, ...wish }, task) {
    const { made, input } = await ready(wish, task)
    const { overlay: _, ...view } = input.scene.view
    const scene = { ...input.scene, view: { ...view, pose: held } }
    const size = { width, height, grid: frameGrid, zoom }
    const all = levels.of(made.map, made.art, wish)
    const value = smallPicture(scene, all, input.sets, size, partOf(task, pictureFrom, 1))
    return { value, transfer: [value.rgba.buffer] }
  },
  async proof({ art, order, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
    const value = await proofWork(checks, file, work, order, partOf(task, 0.05, 1))
    return { value, transfer: [value.bytes.buffer] }
  },
  async report({ art, jobName, version, made, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
    const { list, ...rest } = await checks.check(file, work, partOf(task, 0.05, 1))
    return { value: reportPage({ ...rest, checked: list, job: work.job, jobName, version, made }) }
  },
})
