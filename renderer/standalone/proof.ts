import type { Tables } from '../../core/optics/tables.ts'
import type { ProofManifest } from '../../core/proof/manifest.ts'
import type { Note } from '../../core/proof/notes.ts'
import { readManifest } from '../../core/proof/read.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { wholeView } from '../../core/reference/camera.ts'
import type { PanelPose, Scene } from '../../core/reference/scene.ts'
import { tiltFromStraightOn } from '../stage/angles.ts'
import { foldGroup, lightGroup, putStraight, viewButtons } from './controls.ts'
import { button, el } from './dom.ts'
import { aboutPart, assumedPart, cautionBox, findingsPart, helpPart } from './facts.ts'
import { holdBy } from './hand.ts'
import { Helpers, Refusal } from './helpers.ts'
import { leavesGroup } from './leaves.ts'
import { sourcesKey } from './live.ts'
import { Notes } from './notes.ts'
import { openMap } from './open-map.ts'
import type { PageParts } from './parts.ts'
import { Picture } from './picture.ts'
import { firstSeen, outOfRun, type Seen, sceneMaker } from './seen.ts'
import { Store } from './store.ts'
import { Sweep } from './sweep.ts'

/** Opens the proof in its page. @param script of the page itself, for workers */
export async function openProof(parts: PageParts, script: string): Promise<void> {
  const helpers = new Helpers(script)
  const proof = readManifest(parts.manifest, 'this proof')
  const { head, levels } = openMap(helpers, proof, parts.planeText, 'this proof')
  const known = new Map<string, Promise<readonly Tables[]>>()
  const tablesFor = (scene: Scene): Promise<readonly Tables[]> => {
    const key = sourcesKey(scene)
    const made =
      known.get(key) ?? head.then(map => helpers.ask({ do: 'tables', bakings: bakingsOf(scene, map) }))
    known.set(key, made)
    return made
  }
  const { picture, trouble } = lay(parts, proof, tablesFor)
  try {
    const [map] = await Promise.all([levels, tablesFor(picture.scene())])
    if (!picture.begin(map)) {
      picture.fallBack()
      trouble(
        `There is no WebGL 2 here, which draws the live picture. ${drawnBefore} A current browser with graphics acceleration shows more.`,
      )
    }
  } catch (error) {
    picture.fallBack()
    trouble(damageWords(error))
  }
}

const drawnBefore = 'These pictures were drawn beforehand: drag to go through them.'

function damageWords(error: unknown): string {
  const where = error instanceof Refusal ? error.refused.where : null
  return where === null
    ? `The live picture could not be made: ${error instanceof Error ? error.message : String(error)}. ${drawnBefore}`
    : `This file is damaged in its ${where}, so there is no live picture. Ask for the file again. ${drawnBefore}`
}

/** Everything on the page, around the still picture. */
function lay(
  { still, strip, live }: PageParts,
  proof: ProofManifest,
  tablesFor: (scene: Scene) => Promise<readonly Tables[]>,
): { readonly picture: Picture; readonly trouble: (...told: readonly (string | Node)[]) => void } {
  const seen = new Store<Seen>(firstSeen(proof))
  const sceneOf = sceneMaker(proof)
  const sweep = new Sweep(seen, proof.paths)
  const picture = new Picture({
    proof,
    seen,
    sceneOf,
    still,
    strip,
    tablesFor,
  })
  const notes = new Notes(proof.of, proof.notes, {
    scene: () => picture.scene(),
    pixelOf: place => picture.pixelOver(place),
    show: note => seen.set(asNoted(seen.get(), note)),
  })
  const pose = el('p', { class: 'pose' })
  const says = el('p', { class: 'trouble', role: 'alert', hidden: true })
  const trouble = (...told: readonly (string | Node)[]): void => {
    says.hidden = told.length === 0
    says.replaceChildren(...told)
  }
  const table = el(
    'div',
    {
      class: 'table',
      role: 'application',
      tabindex: 0,
      'aria-label':
        'The carton under the lamp. Arrow keys tilt it, Home puts it straight, plus and minus look closer and farther off.',
    },
    picture.box,
    notes.pins,
    pose,
  )
  holdBy(table, {
    get: () => seen.get(),
    put: held => seen.set({ ...outOfRun(seen.get(), proof), ...held }),
    straight: () => seen.set(putStraight(outOfRun(seen.get(), proof))),
    tap: (x, y) => {
      if (notes.adding) notes.placed(picture.spotUnder(x, y))
    },
  })
  table.addEventListener('keydown', event => {
    if (event.key !== 'Enter' || event.target !== table || !notes.adding) return
    event.preventDefault()
    notes.placed(picture.spotUnder(table.clientWidth / 2, table.clientHeight / 2))
  })
  const light = el(
    'div',
    { class: 'light' },
    lightGroup(seen, proof),
    sweep.box,
    seen.get().fold === null ? null : foldGroup(seen),
    leavesGroup(seen, seen.get().fold !== null),
  )
  const side = el(
    'div',
    { class: 'side' },
    says,
    viewButtons(seen, proof, table),
    light,
    notes.box,
    cautionBox(proof),
    helpPart(),
    findingsPart(proof),
    assumedPart(proof),
    aboutPart(proof),
  )
  live.replaceChildren(table, side)
  seen.follow(now => {
    const { pose: held } = picture.scene().view
    pose.textContent = poseWords(held, now.zoom.scale)
  })
  picture.shows.follow(shows => {
    light.hidden = shows === 'strip'
  })
  picture.onDrawn = canvas => sweep.drawn(canvas)
  picture.onMoved = () => notes.move()
  picture.onLost = lost =>
    lost ? trouble(`The graphics card has let go of the live picture. ${drawnBefore} `, again) : trouble()
  const again = button('Draw it again', () => {
    trouble()
    if (!picture.again()) trouble(`The graphics card gives no picture. ${drawnBefore}`)
  })
  return { picture, trouble }
}

/** Holds lamp and carton as a note had them, whole and with its leaves laid down. */
const asNoted = (now: Seen, { lamp, view }: Note): Seen => ({
  ...now,
  lamp,
  pose: view.pose,
  zoom: wholeView,
  overlay: now.overlay === undefined ? undefined : { ...now.overlay, lift: 0 },
  run: null,
})

function poseWords(pose: PanelPose, scale: number): string {
  const tilt = Math.round(tiltFromStraightOn(pose))
  const turn = Math.round(pose.turnDeg)
  const held =
    tilt === 0 && turn === 0 ? 'Straight on' : `Tilt ${tilt}°${turn === 0 ? '' : `, turn ${turn}°`}`
  return scale === 1 ? held : `${held} · ${Math.round(100 * scale)} %`
}
