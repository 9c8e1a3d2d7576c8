import { useMemo } from 'react'
import { registerLimit } from '../../core/checks/register/tolerance.ts'
import type { Job } from '../../core/job/job.ts'
import { haloColors } from '../panels/checks/pictures/words.ts'
import { SliverOver } from '../scene/SliverOver.tsx'
import type { Look } from '../stage/place.ts'
import { isOld, picturesOf } from '../state/pictures.ts'
import { useMotions } from '../state/register.ts'
import { shownStrips } from '../state/slips.ts'
import type { State } from '../state/state.ts'
import { type Store, useStore } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly job: Job
  readonly look: Look
}

/** Outlines of what shows as the groups lie now, joined to the state. */
export function SliverPart({ store, job, look }: Props) {
  const { slips, unmarked } = useStore(picturesOf(store), all => all)
  const motions = useMotions(job)
  const picture = isOld('slips', slips, job) ? null : slips.value
  const { panel } = job
  const strips = useMemo(
    () =>
      (picture === null ? [] : shownStrips(picture, motions, panel))
        .filter(({ name }) => !unmarked.includes(name))
        .map(one => ({ strips: one.strips, css: haloColors[one.strips.halo].css })),
    [picture, motions, panel, unmarked],
  )
  if (strips.length === 0) return null
  return (
    <SliverOver look={look} strips={strips} visibleMm={registerLimit('register.visible', job.limits).value} />
  )
}
