import { opening } from './shell/opening';
import { createRoot } from 'react-dom/client';
import './theme/fonts';
import './theme/tokens.css';
import './theme/base.css';
import './theme/controls.css';
import './theme/forms.css';
import './theme/frame.css';
import './theme/tables.css';
import './shell/shell.css';
import { Shell } from './shell/Shell';
import { words } from './shell/words';
import { chosenLocale, keepLocale } from './i18n/locale';
import { followSystemMode } from './theme/mode';

followSystemMode();
keepLocale(chosenLocale());
const root = document.getElementById('root');
const waiting = root?.querySelector('[role=status]');
if (!root || !waiting) throw new Error('index.html has no #root that waits.');
/** Who can't see the picture is told of it only where it stays. */
const telling = setTimeout(() => (waiting.textContent = words[chosenLocale()].loading), 2000);
void opening.then((first) => {
  clearTimeout(telling);
  createRoot(root).render(<Shell first={first} />);
});
