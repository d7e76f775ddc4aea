import { createRoot } from 'react-dom/client';
import './theme/fonts';
import './theme/tokens.css';
import './theme/base.css';
import './theme/controls.css';
import './theme/forms.css';
import './theme/frame.css';
import './theme/tables.css';
import './shell/shell.css';
import { chosenLocale } from './i18n/locale';
import { beginOpening } from './shell/opening';
import { Shell } from './shell/Shell';
import { followSystemMode } from './theme/mode';

followSystemMode();
const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no #root.');
const opening = beginOpening(chosenLocale());
createRoot(root).render(<Shell opening={opening} />);
