import type { ArtFile } from '../art/layer.ts'
import { partOf, type Task } from '../base/task.ts'
import { type WhiteFromArt, whiteFromArt } from '../checks/white/from-art.ts'
import { whiteLimits } from '../checks/white/limits.ts'
import type { WhiteRecipe } from '../checks/white/recipe.ts'
import { whiteSources } from '../checks/white/sources.ts'
import { madeWhiteTarget } from '../material/plates.ts'
import { sameTarget } from './edit.ts'
import type { Job } from './job.ts'

/** White under nothing yet, by the job's own limits. */
export function newRecipe({ limits }: Pick<Job, 'limits'>): WhiteRecipe {
  const value = (key: 'white.choke' | 'white.spread' | 'white.chokeFromPt') =>
    limits[key]?.value ?? whiteLimits[key].usual
  return {
    name: 'White made from the art',
    under: [],
    knockOut: [],
    patches: [],
    design: {
      chokeMm: value('white.choke'),
      spreadMm: value('white.spread'),
      chokeFromPt: value('white.chokeFromPt'),
    },
  }
}

/** Equal for recipes that make the same white of the same art. */
export const recipeKey = ({ name: _, ...made }: WhiteRecipe, { widthMm, heightMm }: Job['panel']): string =>
  JSON.stringify([made, widthMm, heightMm])

/** The white of a recipe on the pixels of the document. Throws Cancelled when told to stop. */
export async function makeWhite(
  file: ArtFile,
  recipe: WhiteRecipe,
  { widthMm, heightMm }: Job['panel'],
  task?: Task,
): Promise<WhiteFromArt> {
  const { art } = file
  const size = { width: art.width, height: art.height, widthMm, heightMm }
  const sources = await whiteSources({ art, file, map: size }, recipe, partOf(task, 0, 0.7))
  return whiteFromArt(size, sources, recipe.design, partOf(task, 0.7, 1))
}

/** Takes a white made of the art, changes it, or with null takes it out with what was measured of it. */
export const setMadeWhite =
  (madeWhite: WhiteRecipe | null) =>
  (job: Job): Job => ({
    ...job,
    madeWhite,
    whites:
      madeWhite === null ? job.whites.filter(one => !sameTarget(one.target, madeWhiteTarget)) : job.whites,
  })
