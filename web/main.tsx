import { QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { makeClient } from './api/client.ts';

const root = document.getElementById('ullage');
if (!root) throw new Error('The page has no place for Ullage.');
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={makeClient()}>
      <App />
    </QueryClientProvider>
  </StrictMode>,
);
