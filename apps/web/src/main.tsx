import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './shell/app.tsx';

const root = document.getElementById('root');
if (!root) throw new Error('the page has no place for the program');
createRoot(root).render(
  <StrictMode>
    <App />
  </StrictMode>,
);
