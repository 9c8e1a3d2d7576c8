import { blankArt } from '../../core/art/blank.ts'
import type { ProofInput } from '../../core/export/proof.ts'
import type { Job } from '../../core/job/job.ts'
import { sceneWith } from '../../core/job/scene.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { sinusoid } from '../../core/optics/groove.ts'
import { versionOf } from '../../core/proof/version.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { plainJob } from './job.ts'
import { type PaintPlan, paintMap } from './paint-map.ts'

const plan: PaintPlan = {
  size: 96,
  sideMm: 24,
  gratings: 1,
  whites: [{ opacity: 0.6, hits: 1 }],
  spots: [],
  varnish: false,
}

/** A small proof's input: a painted map of 24 mm at 102 ppi, tiny pictures, scripts of a line. */
export function proofInput(change: Partial<ProofInput> = {}, jobChange: Partial<Job> = {}): ProofInput {
  const job: Job = {
    ...plainJob,
    panel: { widthMm: 24, heightMm: 24, resolutionPpi: 101.6 },
    ...jobChange,
  }
  const painted = paintMap(plan, (x, y) => ({
    cmyk: [x > 0 ? 0.8 : 0, y > 0 ? 0.4 : 0, 0, 0.1],
    whites: [Math.hypot(x, y) < 0.5 ? 1 : 0],
    gratings: [
      {
        pitch: 1000,
        azimuth: Math.atan2(y, x),
        spreadAlong: 1e-5,
        spreadAcross: 1e-5,
        grooveDepth: 120,
        share: 1,
        groove: sinusoid,
      },
    ],
  }))
  const map = { ...painted, print: null }
  const { art } = blankArt({ widthMm: 24, heightMm: 24, whitePart: 0.3 })
  const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  sets ??= bakingsOf(scene, map).map(bakeTables)
  return {
    of: versionOf({
      jobName: 'comet.job.json',
      madeAt: '2026-03-04T09:30:00Z',
      program: '0.1.0',
      data: '1',
      sources: [],
      job,
    }),
    art,
    assigned: [],
    checked: null,
    notes: [],
    map,
    sets,
    budget: 25_000_000,
    scripts: { loader: 'void 0', viewer: 'void 1', css: 'p{margin:0}' },
    pictures: { stillWidth: 32, stripWidth: 16, tilts: [-10, 10] },
    ...change,
  }
}

// The same for all: only lamp, pose and words differ.
let sets: ProofInput['sets'] | undefined
