import { type Light, lightOf as lightFrom } from '../../reference/light.ts'
import { fromLeaf, standIn } from '../../reference/pose.ts'
import type { PanelPose } from '../../reference/scene.ts'
import { shownChroma } from './shown-chroma.ts'
import { Sight } from './sight.ts'
import type { Frame, Subject, SubjectFace } from './subject.ts'

/** What light counts: all, that of the lamps or of the room alone, or the lamps' with the room's of another pose, which is near enough to search by. */
export type LightOf = 'all' | 'lamps' | 'room' | PanelPose

/**
 * How some faces of a subject look; null where less than a twentieth of them is in sight, by the picture that they take
 * over what they would take straight on.
 * @param glare Y from which a site has no colour to enjoy
 * @param lightOf most of the work is the room's light, which changes slowly; chroma is of all light only
 */
export function lookAt(
  { scene, leaves }: Pick<Subject, 'scene' | 'leaves'>,
  faces: readonly SubjectFace[],
  pose: PanelPose,
  glare: number,
  lightOf: LightOf = 'all',
): Frame | null {
  const held = (own: PanelPose) => {
    const standing = standIn({ ...scene, view: { ...scene.view, pose: own } })
    const lightOn = (index: number): Light | null => {
      const onFace = fromLeaf(standing, leaves[index]!)
      return onFace.eye[2] > 0 ? lightFrom(scene, onFace) : null
    }
    return { standing, lightOn }
  }
  const { standing, lightOn } = held(pose)
  const other = typeof lightOf === 'string' ? null : lightOf
  const word = wordOf(pose)
  const what = [word, glare, other === null ? lightOf : wordOf(other)].join(', ')
  // Lamps or room alone are looked at for their light only.
  const each = lightOf === 'lamps' || lightOf === 'room' ? 1 : 2
  let sight: Sight | undefined
  let luminance = 0
  let chroma = 0
  let seen = 0
  let all = 0
  for (const face of faces) {
    const { index, counts, at, notes } = face
    const light = lightOn(index)
    for (const count of counts) all += count
    if (light === null) continue
    const own = lightOf === 'all' ? light : lightOf === 'room' ? withoutLamps(light) : withoutRoom(light)
    let room: Float32Array | undefined
    const parts = notes.of(['sight', word].join(', '), 1, (i, out, to) => {
      sight ??= new Sight(leaves, standing, scene.view.eyeDistanceMm)
      out[to] = sight.of(index, at[2 * i]!, at[2 * i + 1]!)
    })
    const looks = notes.of(what, each, (i, out, to) => {
      if (parts[i] === 0) return
      face.sites.at(i, own, one)
      if (other !== null) {
        room ??= roomOn(face, other, held(other).lightOn(index))
        for (let c = 0; c < 3; c++) one[c]! += room[3 * i + c]!
      }
      out[to] = one[1]!
      if (each === 2 && one[1]! <= glare) out[to + 1] = shownChroma(scene, one)
    })
    const lit = lightOf === 'lamps' ? face.near : counts
    for (let i = 0, from = 0; i < counts.length; i++, from += each) {
      const part = parts[i]!
      seen += counts[i]! * part
      luminance += lit[i]! * part * looks[from]!
      if (each === 2) chroma += counts[i]! * part * looks[from + 1]!
    }
  }
  return seen === 0 || seen < leastSeen * all
    ? null
    : { pose, luminance: luminance / seen, chroma: chroma / seen }
}

/** X, Y, Z of the room alone at each place of a face, held another way; 0 where that shows its back. */
function roomOn({ notes, sites }: SubjectFace, pose: PanelPose, light: Light | null): Float32Array {
  const room = light && withoutLamps(light)
  return notes.of(['room', wordOf(pose)].join(', '), 3, (i, out, to) => {
    if (room !== null) out.set(sites.at(i, room, ofRoom), to)
  })
}

const withoutRoom = (light: Light): Light => ({ ...light, surround: { ...light.surround, level: 0 } })

const withoutLamps = (light: Light): Light => ({ ...light, lamps: [] })

/** Joined, so that it lies in one piece where it is kept. */
const wordOf = ({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose): string =>
  [tiltForwardDeg, tiltSideDeg, turnDeg].join(' ')

const one = new Float64Array(3)
const ofRoom = new Float64Array(3)
const leastSeen = 0.05
