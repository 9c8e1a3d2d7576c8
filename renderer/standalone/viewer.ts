import './viewer.css'
import { serve } from './helpers.ts'
import { partsOfPage } from './parts.ts'
import { openProof } from './proof.ts'

// One script with two lives: the page's own, and that of the workers which the page makes of its text.
if (typeof document === 'undefined') serve()
else {
  const script = document.currentScript?.textContent ?? ''
  if (document.readyState === 'loading')
    addEventListener('DOMContentLoaded', () => void openProof(partsOfPage(), script), { once: true })
  else void openProof(partsOfPage(), script)
}
