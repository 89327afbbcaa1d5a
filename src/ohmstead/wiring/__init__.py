"""Conductor and fuse physics: resistance, ampacity, melting time, adiabatic limit."""
