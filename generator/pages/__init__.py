"""What people read: views, drawings and the site."""
