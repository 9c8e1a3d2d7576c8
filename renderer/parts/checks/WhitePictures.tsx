import { type MarkKind, markedBox } from '../../../core/checks/marked.ts'
import { clearWhite, sameTarget, setWhite } from '../../../core/job/edit.ts'
import { newRecipe, recipeKey, setMadeWhite } from '../../../core/job/made-white.ts'
import { assumedWhite, madeWhiteTarget } from '../../../core/material/plates.ts'
import type { RoleName } from '../../../core/roles/role.ts'
import { AskLine } from '../../panels/checks/pictures/AskLine.tsx'
import { WhiteBeforeAfter } from '../../panels/checks/pictures/WhiteBeforeAfter.tsx'
import { WhiteRecipeFields } from '../../panels/checks/pictures/WhiteRecipeFields.tsx'
import { WhiteFields } from '../../panels/WhiteFields.tsx'
import { isOld, makePicture, picturesOf, stopPicture } from '../../state/pictures.ts'
import { coatsOf } from '../../state/stack.ts'
import { decide, settle } from '../../state/steps.ts'
import { useStore } from '../../state/store.ts'
import type { PictureProps } from './picture-props.ts'
import '../../style/pictures.css'

const patchKinds: readonly string[] = ['code', 'text', 'brand-colour'] satisfies readonly MarkKind[]

/** A white that is made of the art, looked at, and taken or left, joined to the state. */
export function WhitePictures({ desk, state, job }: PictureProps) {
  const { store } = desk
  const pictures = picturesOf(store)
  const made = useStore(pictures, all => all.white)
  const thought = useStore(pictures, all => all.recipe)
  const { art } = state.session
  if (art === null || job.art === null)
    return <p>A white is made of art: a job without art has its white in the brief.</p>
  const taken = job.madeWhite
  const recipe = thought ?? taken ?? newRecipe(job)
  const think = (next: typeof thought) => pictures.set(now => ({ ...now, recipe: next }))
  const empty = recipe.under.length === 0 && recipe.patches.length === 0
  const changed = taken === null || recipeKey(taken, job.panel) !== recipeKey(recipe, job.panel)
  const old = isOld('white', made, { ...job, madeWhite: recipe })
  const coats = coatsOf(art.art, art.assigned).printed
  const layers = (...roles: readonly RoleName[]) =>
    coats
      .filter(coat => roles.includes(coat.role))
      .flatMap(coat => coat.members)
      .filter(({ target }) => target.kind === 'layer')
      .map(({ target, name, groups }) => ({
        id: target.id,
        name,
        says: [...groups.map(group => group.name), name].join(' › '),
      }))
  const own = job.whites.find(one => sameTarget(one.target, madeWhiteTarget))
  const settled = () => store.set(settle)
  return (
    <>
      <h4>A white made from the art</h4>
      <p className="quiet">
        {taken === null
          ? 'It comes beside the whites of the file, and is made again when the art changes.'
          : 'The job has it, beside the whites of the file.'}
      </p>
      <WhiteRecipeFields
        recipe={recipe}
        printed={layers('overprint', 'spotInk')}
        foil={layers('holography')}
        patches={job.marked.flatMap(area => {
          const box = markedBox(area)
          return box !== null && patchKinds.includes(area.kind)
            ? [{ id: area.name, name: area.name, says: 'marked', box }]
            : []
        })}
        onChange={think}
      />
      {empty ? (
        <p>Choose what it lies under, or something that it is solid behind.</p>
      ) : (
        <AskLine
          ask="Show it before and after"
          made={made}
          there={made.value !== null}
          old={old}
          onAsk={() => void makePicture(desk, 'white', { madeWhite: recipe })}
          onStop={() => stopPicture(desk, 'white')}
        />
      )}
      {made.value === null || old || empty ? null : <WhiteBeforeAfter picture={made.value} />}
      <div className="actions">
        {changed && !empty ? (
          <button
            type="button"
            className="plain small edged"
            onClick={() => {
              store.set(now => decide(now, setMadeWhite(recipe)))
              think(null)
            }}
          >
            {taken === null ? 'Take it' : 'Take the change'}
          </button>
        ) : null}
        {changed && thought !== null ? (
          <button type="button" className="plain small edged" onClick={() => think(null)}>
            {taken === null ? 'Leave it' : 'Leave the change'}
          </button>
        ) : null}
        {taken === null ? null : (
          <button
            type="button"
            className="plain small edged"
            onClick={() => {
              store.set(now => decide(now, setMadeWhite(null)))
              think(taken)
            }}
          >
            Take it out
          </button>
        )}
      </div>
      {taken === null ? null : (
        <details>
          <summary>How it prints</summary>
          <WhiteFields
            white={own ?? { ...assumedWhite, opacity: { from: 'contrast', value: assumedWhite.opacity } }}
            assumed={own === undefined}
            onChange={white =>
              store.set(now => decide(now, setWhite({ ...white, target: madeWhiteTarget }), 'white'))
            }
            onRule={() => store.set(now => decide(now, clearWhite(madeWhiteTarget)))}
            onSettle={settled}
          />
        </details>
      )}
    </>
  )
}
