import { checkCancelled, type Task } from '../../base/task.ts'
import { deltaE2000 } from '../../color/deltae.ts'
import { type Lab, xyzToLab } from '../../color/lab.ts'
import type { XYZ } from '../../color/xyz.ts'
import type { MaterialMap } from '../../material/map.ts'
import { bakeTables } from '../../optics/bake.ts'
import type { Tables } from '../../optics/tables.ts'
import { bakingOf, distinctSources, sceneWhite } from '../../reference/baking.ts'
import { aim, lightOf } from '../../reference/light.ts'
import { standIn } from '../../reference/pose.ts'
import { MapSampler } from '../../reference/sample.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { emptySite, type Site, shadeAll } from '../../reference/shade.ts'
import { polarPose } from '../../reference/sweep-poses.ts'

/** What the metal adds to a colour that white should keep from it. */
export interface Bleed {
  /** Colour as built, and the same white and inks on white board, 45°/0° under D50. */
  readonly built: Lab
  readonly onWhite: Lab
  readonly difference: number
  /** In the worst position of the hand. */
  readonly tilted: { readonly difference: number; readonly held: PanelPose }
}

/** Reads the metal bleed of single pixels of a map, by the optics of the picture. */
export class BleedReader {
  readonly #standard: View[]
  readonly #hand: View[]
  readonly #standardWhite: XYZ
  readonly #handWhite: XYZ
  readonly #standardSets: readonly Tables[]
  readonly #handSets: readonly Tables[]
  readonly #sampler: MapSampler

  /**
   * @param sets tables of each spectrum among the scene's lamps
   * @param d50  those of D50
   */
  constructor(scene: Scene, map: MaterialMap, sets: readonly Tables[], d50 = tablesOfD50(scene, map, sets)) {
    const instrument = instrumentScene(scene)
    // The panel turned in its plane stands for a ring of lamps: ISO 13655 wants the sample lit from all round.
    this.#standard = ring(15).map(turnDeg => ({ scene: instrument, held: { ...straight, turnDeg } }))
    const hand = scene.view.pose
    this.#hand = [
      hand,
      ...[0, 15, 30, 45, 60].flatMap(tilt =>
        (tilt === 0 ? [0] : ring(30)).map(angle => polarPose(hand, 'lean', tilt, angle)),
      ),
    ].map(held => ({ scene, held }))
    this.#standardWhite = sceneWhite(instrument)
    this.#handWhite = sceneWhite(scene)
    this.#standardSets = [d50]
    this.#handSets = sets
    this.#sampler = new MapSampler(map)
  }

  /** @param x, y pixel of the map. Throws Cancelled when told to stop. */
  at(x: number, y: number, task?: Task): Bleed {
    checkCancelled(task)
    const built: XYZ[] = []
    const onWhite: XYZ[] = []
    const standard = this.#siteOf(this.#standardSets, x, y)
    for (const view of this.#standard) built.push(lightAt(view, standard, this.#standardSets))
    onBoard(standard)
    for (const view of this.#standard) onWhite.push(lightAt(view, standard, this.#standardSets))
    const labs = [mean(built), mean(onWhite)].map(xyz => xyzToLab(xyz, this.#standardWhite))
    return {
      built: labs[0]!,
      onWhite: labs[1]!,
      difference: deltaE2000(labs[0]!, labs[1]!),
      tilted: this.#worst(x, y),
    }
  }

  #worst(x: number, y: number): Bleed['tilted'] {
    const site = this.#siteOf(this.#handSets, x, y)
    const built = this.#hand.map(view => lightAt(view, site, this.#handSets))
    onBoard(site)
    let worst = { difference: -1, held: this.#hand[0]!.held }
    for (const [i, view] of this.#hand.entries()) {
      const white = lightAt(view, site, this.#handSets)
      // Out of the light or out of sight there is no colour to be wrong.
      if (white[1] <= dark) continue
      const difference = deltaE2000(xyzToLab(built[i]!, this.#handWhite), xyzToLab(white, this.#handWhite))
      if (difference > worst.difference) worst = { difference, held: view.held }
    }
    return { ...worst, difference: Math.max(0, worst.difference) }
  }

  #siteOf([first, ...more]: readonly Tables[], x: number, y: number): Site {
    const site = emptySite(first!, ...more)
    this.#sampler.fill(x, y, site)
    return site
  }
}

/** Tables of D50: the scene's own where one of its lamps is that. */
export function tablesOfD50(scene: Scene, map: MaterialMap, sets: readonly Tables[]): Tables {
  const known = distinctSources(scene.light).sources.indexOf('D50')
  return sets[known] ?? bakeTables(bakingOf(scene, 'D50', map))
}

interface View {
  readonly scene: Scene
  readonly held: PanelPose
}

const straight: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
/** Less light than this of perfect white is dark. */
const dark = 1e-3

const ring = (stepDeg: number): readonly number[] =>
  Array.from({ length: 360 / stepDeg }, (_, i) => i * stepDeg)

/** A far small lamp at 45° and an eye on the normal, no room: what a spectrophotometer of 45°/0° sees. */
function instrumentScene(scene: Scene): Scene {
  const { overlay: _, eyeAt: _eye, ...view } = scene.view
  const { solid: _solid, leaf: _leaf, ...flat } = scene
  return {
    ...flat,
    light: {
      lamps: [
        {
          name: '45°',
          pose: { azimuthDeg: 0, elevationDeg: 45, distanceMm: 1000, diameterMm: 20 },
          form: { kind: 'disc' },
          illuminant: 'D50',
          spectrum: null,
          lux: 1000,
        },
      ],
      roomLevel: 0,
    },
    view: { ...view, pose: straight, eyeDistanceMm: 1000 },
  }
}

/** The same white, inks and varnish on white board. */
function onBoard(site: Site): void {
  site.metal = 0
  site.gratings = 0
}

/** Light of the site's matter in the middle of the panel. */
function lightAt({ scene, held }: View, site: Site, sets: readonly Tables[]): XYZ {
  const posed = { ...scene, view: { ...scene.view, pose: held } }
  const standing = standIn(posed)
  if (standing.eye[2] <= 0) return [0, 0, 0]
  const light = lightOf(posed, standing)
  aim(light, 0, 0, site)
  const out = shadeAll(site, light, sets, new Float64Array(3))
  return [out[0]!, out[1]!, out[2]!]
}

function mean(all: readonly XYZ[]): XYZ {
  const sum = (c: 0 | 1 | 2) => all.reduce((total, xyz) => total + xyz[c], 0) / all.length
  return [sum(0), sum(1), sum(2)]
}
